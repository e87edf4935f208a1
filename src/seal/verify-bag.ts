import { createHash, getHashes } from 'node:crypto';
import { algorithms, bagList, encodedName, tokenName } from './bag-lists.ts';
import { alikeKey, decodeTag, infoValues, readDeclaration, readFetch, readList } from './bag-read.ts';
import type { List, Listed } from './bag-read.ts';
import { hashStored, readWhole } from './store.ts';
import type { Store } from './store.ts';
import { checkToken } from './timestamp.ts';
import { litter } from './verdict.ts';
import type { Difference, Verdict } from './verdict.ts';

/** A bag while it is checked. */
interface Bag {
  store: Store;
  verdict: Verdict;
  version: number;
  encoding: string;
  lists: List[];
  /** Hashes found, by name; null is not there, an error could not be read. */
  found: Map<string, Record<string, string> | Error | null>;
}

/** Compares a bag with its manifests and tagmanifests, by the rules of its version (RFC 8493; section 6.1 for those before 1.0). Nothing is fetched. */
export async function verifyBag(store: Store, verdict: Verdict): Promise<void> {
  const bytes = await readWhole(store, 'bagit.txt');
  const declared = bytes ? readDeclaration(bytes) : null;
  if (bytes === null) verdict.differences.push({ kind: 'missing', name: 'bagit.txt', what: 'a bag begins with it' });
  else if (declared === null) verdict.differences.push({ kind: 'wrong', name: 'bagit.txt', what: 'not the two lines it must have, version 0.93 to 1.0 and encoding' });
  const { version, encoding } = declared ?? { version: 1, encoding: 'utf-8' };
  verdict.version = declared?.version ?? null;
  const bag: Bag = { store, verdict, version, encoding, lists: [], found: new Map() };
  for (const name of store.files.keys()) if (/^(?:tag)?manifest-[^/]+\.txt$/.test(name)) await openList(bag, name);
  const payloadLists = bag.lists.filter(({ file }) => file.startsWith('manifest-'));
  if (payloadLists.length === 0) verdict.differences.push({ kind: 'missing', name: 'manifest-sha256.txt', what: 'there is no manifest that can be read' });
  const info = await infoText(bag);
  const own = infoValues(info, 'Bag-Software-Agent').some((agent) => agent.startsWith('Sillbook'));
  await hashAll(bag);
  compareListed(bag);
  compareSets(bag, payloadLists, own);
  if (own) await canonical(bag);
  if (own) await writing(bag, info);
  oxum(bag, info);
  await fetched(bag, payloadLists);
  const manifest = await readWhole(store, 'manifest-sha256.txt');
  verdict.manifestSha256 = manifest ? createHash('sha256').update(manifest).digest('hex') : null;
  const token = await readWhole(store, tokenName);
  if (!token || !manifest) return;
  verdict.token = await checkToken(token, manifest);
  for (const what of verdict.token.faults) verdict.differences.push({ kind: 'wrong', name: tokenName, what });
}

async function openList(bag: Bag, file: string): Promise<void> {
  const text = await tagText(bag, file);
  if (text === null) return;
  const list = readList(file, text, bag.version);
  if (!getHashes().includes(list.algorithm)) return void bag.verdict.warnings.push(`${file}: hashes of a kind this program does not know; it was not used`);
  if (['md5', 'sha1'].includes(list.algorithm)) bag.verdict.warnings.push(`${file}: this kind of hash shows slips, not intent: other bytes with the same hash can be made`);
  bag.lists.push(list);
  for (const what of list.faults) bag.verdict.differences.push({ kind: 'wrong', name: file, what });
  bag.verdict.warnings.push(...list.warnings.map((what) => `${file}: ${what}`));
}

async function tagText({ store, verdict, encoding }: Bag, file: string): Promise<string | null> {
  const bytes = await readWhole(store, file);
  try {
    if (bytes) return decodeTag(bytes, encoding);
  } catch {
    // Said below.
  }
  if (store.files.has(file)) verdict.differences.push({ kind: 'changed', name: file, what: `cannot be read as ${encoding}` });
  return null;
}

async function infoText(bag: Bag): Promise<string> {
  const name = ['bag-info.txt', 'package-info.txt'].find((one) => bag.store.files.has(one));
  return name === undefined ? '' : ((await tagText(bag, name)) ?? '');
}

/** Every listed file is read once, for all lists it stands in. */
async function hashAll({ store, lists, found }: Bag): Promise<void> {
  const wanted = new Map<string, Set<string>>();
  for (const list of lists) {
    for (const entry of list.entries) {
      entry.name = onDisk(store, entry);
      const kinds = wanted.get(entry.name) ?? new Set();
      wanted.set(entry.name, kinds.add(list.algorithm));
    }
  }
  for (const [name, kinds] of wanted) found.set(name, await hashStored(store, name, [...kinds]));
}

/** Before 1.0 a name with % may be one as it is written; a folder copied by a Mac may have letters composed another way. */
function onDisk(store: Store, { name, written }: Listed): string {
  if (store.files.has(name) || written === name) return name;
  return store.files.has(written) ? written : name;
}

function compareListed({ store, verdict, version, lists, found }: Bag): void {
  const said = new Set<string>();
  const alike = new Map([...store.files.keys()].map((name) => [alikeKey(name), name]));
  const say = (difference: Difference): void => {
    if (!said.has(`${difference.name} ${difference.kind}`)) verdict.differences.push(difference);
    said.add(`${difference.name} ${difference.kind}`);
  };
  for (const list of lists) {
    for (const { name, hash } of list.entries) {
      const there = found.get(name);
      if (there instanceof Error) say({ kind: 'wrong', name, what: `cannot be read (${there.message})` });
      else if (there === null || there === undefined) {
        const twin = alike.get(alikeKey(name));
        if (litter.test(name)) verdict.warnings.push(`${name}: a file that systems make and take away; it is not there`);
        else if (twin !== undefined && (twin.normalize('NFC') === name.normalize('NFC') || (version < 1 && list.entries.some((one) => one.name === twin && one.hash === hash)))) verdict.warnings.push(`${name}: not there by this very name, but as ${twin}`);
        else if (phantom(list, name, lists)) verdict.differences.push({ kind: 'changed', name: list.file, what: `names ${encodedName(name)}, which is not there and which no other list names` });
        else say({ kind: 'missing', name, what: `listed in ${list.file}, and not there` });
      } else if (there[list.algorithm] !== hash) {
        const other = lists.find((one) => one !== list && one.file.startsWith('tagmanifest-') && list.file.startsWith('tagmanifest-') && one.entries.some((entry) => entry.name === name && there[one.algorithm] === entry.hash));
        if (other) verdict.differences.push({ kind: 'changed', name: list.file, what: `its line of ${name} does not match, that of ${other.file} does` });
        else say({ kind: 'changed', name, what: `not the bytes that ${list.file} lists` });
      }
    }
  }
}

/** Whether a tagmanifest alone names a file that is not there: then it is that list that was altered. */
function phantom(list: List, name: string, lists: readonly List[]): boolean {
  const others = lists.filter((one) => one !== list && one.file.startsWith('tagmanifest-'));
  return list.file.startsWith('tagmanifest-') && others.length > 0 && others.every((one) => one.entries.every((entry) => entry.name !== name));
}

/** Files no list names, and files only some lists name. */
function compareSets({ store, verdict, version, lists }: Bag, payloadLists: readonly List[], own: boolean): void {
  const namesOf = (list: List): Set<string> => new Set(list.entries.map(({ name }) => name));
  const sets = new Map(lists.map((list) => [list, namesOf(list)]));
  const composed = new Set(payloadLists.flatMap((list) => list.entries.map((one) => one.name.normalize('NFC'))));
  const tagLists = lists.filter(({ file }) => file.startsWith('tagmanifest-'));
  for (const name of store.files.keys()) {
    const isPayload = name.startsWith('data/');
    if (!isPayload && name.startsWith('tagmanifest-')) continue;
    const among = isPayload ? payloadLists : tagLists;
    const missing = among.filter((list) => !sets.get(list)?.has(name));
    if (missing.length === 0 || (isPayload && composed.has(name.normalize('NFC')) && among.every((list) => !sets.get(list)?.has(name)))) continue;
    if (isPayload && missing.length === among.length) verdict.differences.push({ kind: 'added', name, what: 'in no manifest' });
    else if (isPayload && version >= 1) verdict.differences.push({ kind: 'wrong', name: missing[0]?.file ?? '', what: `does not list ${name}, which another manifest does` });
    else if (!isPayload && own && missing.length < among.length) verdict.differences.push(...missing.map(({ file }) => ({ kind: 'changed' as const, name: file, what: `does not list ${name}, which another tagmanifest does` })));
    else if (!isPayload && own) verdict.differences.push({ kind: 'added', name, what: `not in ${missing.map(({ file }) => file).join(', ')}` });
    else if (!isPayload && !litter.test(name)) verdict.warnings.push(`${name}: in no list of tag files, so nothing is known of it`);
  }
}

/** A bag of ours has both lists of each kind, written in one way only: so a byte altered in a list that no other list names is seen too. */
async function canonical({ store, verdict, lists }: Bag): Promise<void> {
  for (const algorithm of algorithms) {
    for (const file of [`manifest-${algorithm}.txt`, `tagmanifest-${algorithm}.txt`]) if (!store.files.has(file)) verdict.differences.push({ kind: 'missing', name: file, what: 'a bag of this program has it' });
    const list = lists.find(({ file }) => file === `tagmanifest-${algorithm}.txt`);
    if (!list) continue;
    const entries = new Map(list.entries.map(({ name, hash }) => [name, { sha256: hash, sha512: hash }]));
    const bytes = await readWhole(store, list.file);
    if (!bytes?.equals(Buffer.from(bagList(entries, algorithm)))) verdict.differences.push({ kind: 'changed', name: list.file, what: 'not written as this program writes it' });
  }
}

/** Of a ZIP of ours every byte is known, those of its headers too. */
async function writing({ store, verdict }: Bag, info: string): Promise<void> {
  const found = await store.compareWriting?.(infoValues(info, 'Bagging-Date')[0] ?? '');
  if (found?.by === 'another') verdict.warnings.push('the ZIP was packed anew by another program: its files were compared, modes and dates in it cannot be');
  else verdict.differences.push(...(found?.faults ?? []).map(({ name, what }) => ({ kind: 'changed' as const, name, what })));
}

/** Said as odd only where a file that systems take away is all that may explain it. */
function oxum({ store, verdict, lists }: Bag, info: string): void {
  const gone = lists.some(({ entries }) => entries.some(({ name }) => name.startsWith('data/') && litter.test(name) && !store.files.has(name)));
  for (const value of infoValues(info, 'Payload-Oxum')) {
    const payload = [...store.files].filter(([name]) => name.startsWith('data/'));
    const is = `${payload.reduce((sum, [, file]) => sum + file.bytes, 0)}.${payload.length}`;
    const what = `says the payload is ${value} (bytes.files), and it is ${is}`;
    if (value !== is && gone) verdict.warnings.push(`bag-info.txt: ${what}`);
    else if (value !== is) verdict.differences.push({ kind: 'wrong', name: 'bag-info.txt', what });
  }
}

/** A bag may say where to fetch files that are not in it. Until somebody has, it is incomplete: each is missing already. */
async function fetched(bag: Bag, payloadLists: readonly List[]): Promise<void> {
  if (!bag.store.files.has('fetch.txt')) return;
  const { names, faults } = readFetch((await tagText(bag, 'fetch.txt')) ?? '');
  for (const what of faults) bag.verdict.differences.push({ kind: 'wrong', name: 'fetch.txt', what });
  const listed = new Set(payloadLists.flatMap((list) => list.entries.map(({ name }) => name)));
  const absent = names.filter((name) => !bag.store.files.has(name));
  for (const name of names) if (!listed.has(name)) bag.verdict.differences.push({ kind: 'wrong', name: 'fetch.txt', what: `names ${encodedName(name)}, which no manifest lists` });
  if (absent.length > 0) bag.verdict.warnings.push(`fetch.txt: ${absent.length} of its files are still to be fetched, which this program does not do; the bag is incomplete`);
}
