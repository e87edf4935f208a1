import { createHash } from 'node:crypto';
import { open, readFile, stat } from 'node:fs/promises';
import path from 'node:path';
import { originalsName } from '../model/job.ts';
import { visible } from '../model/notice.ts';
import { folderStore } from '../seal/store.ts';
import type { Store } from '../seal/store.ts';
import type { TokenVerdict } from '../seal/timestamp.ts';
import { verify } from '../seal/verify.ts';
import type { Verdict } from '../seal/verdict.ts';
import { zipStore } from '../seal/zip-store.ts';
import { countText, dateText } from '../units.ts';
import { parse, say, WrongUse } from './terminal.ts';
import type { ExitCode } from './terminal.ts';

const help = `sillbook verify <bag | zip | dossier | issue> [--json]

Compares files with their own lists of hashes: a bag (RFC 8493, versions 0.93 to 1.0, from any program) as a folder or a ZIP, a
dossier, or an issue. Names every changed, missing and added file, one line each. Nothing is written, unpacked or fetched. Where
the bag holds a time stamp, says when, by whom, and what it proves.

  --json   print what was found as JSON

Exit codes: 0 all as listed, 1 something differs, 2 wrong use.

Examples
  sillbook verify larkspur-bag
  sillbook verify larkspur-bag.zip
  sillbook verify larkspur/issues/2026-014
`;

/** `sillbook verify`. */
export async function command(args: string[]): Promise<ExitCode> {
  const parsed = parse(args, { json: { type: 'boolean' } }, help);
  if (!parsed) return 0;
  const [target, ...more] = parsed.positionals;
  if (target === undefined || more.length > 0) throw new WrongUse(target === undefined ? 'sillbook verify needs a bag, a ZIP or a dossier.' : `sillbook verify takes one thing to check, but got ${more.length + 1}.`, 'For example: sillbook verify larkspur-bag');
  const store = await openStore(target);
  try {
    const verdict = await verify(store);
    if (verdict.kind === 'unknown' && verdict.differences.length === 0) throw new WrongUse(`${target} is neither a bag nor a dossier: it holds no bagit.txt and no manifest-sha256.txt.`, 'Name the folder that holds one of them.');
    if (parsed.values.json) process.stdout.write(`${JSON.stringify({ checked: path.resolve(target), ...verdict }, null, 2)}\n`);
    else tell(target, verdict, verdict.kind === 'dossier' ? await readFile(path.join(target, originalsName)).catch(() => null) : null);
    return verdict.differences.length === 0 ? 0 : 1;
  } finally {
    await store.close();
  }
}

async function openStore(target: string): Promise<Store> {
  const facts = await stat(target).catch(() => null);
  if (!facts) throw new WrongUse(`There is no ${target}.`, 'Name a bag, a ZIP of one, a dossier or an issue.');
  if (facts.isDirectory()) return folderStore(target);
  try {
    return await zipStore(target);
  } catch (fault) {
    const { syscall, message } = fault as NodeJS.ErrnoException;
    if (syscall !== undefined) throw fault;
    const reason = message.split('. ')[0]?.replace(/\.$/, '') ?? '';
    if (!(await beginsLikeZip(target)) && !/\.zip$/i.test(target)) throw new WrongUse(`${target} is no ZIP (${reason}).`, 'Name a bag, a ZIP of one, a dossier or an issue.');
    return { files: new Map(), faults: [{ name: '.', what: `cannot be read as a ZIP, so it is damaged or cut off (${reason})` }], close: async () => undefined };
  }
}

/** What was one and is damaged is a finding, not wrong use. */
async function beginsLikeZip(file: string): Promise<boolean> {
  const handle = await open(file, 'r');
  try {
    const { buffer, bytesRead } = await handle.read(Buffer.alloc(4), 0, 4, 0);
    return bytesRead === 4 && buffer.readUInt32LE(0) === 0x04034b50;
  } finally {
    await handle.close();
  }
}

function tell(target: string, verdict: Verdict, list: Buffer | null): void {
  const { kind, version, differences, warnings, files, manifestSha256, token } = verdict;
  for (const { kind: difference, name, what } of differences) process.stdout.write(`${visible(`${difference} ${name.replace(/\n/g, '\uFFFD')}: ${what}`)}\n`);
  for (const warning of warnings) say(visible(`note: ${warning.replace(/\n/g, '\uFFFD')}`));
  const what = kind === 'unknown' ? 'a ZIP' : kind === 'dossier' ? 'a dossier' : `a bag${version === null ? '' : ` (BagIt ${version === 1 ? '1.0' : version})`}`;
  if (differences.length > 0) {
    say(`${visible(target)} is ${what} that is not as ${kind === 'unknown' ? 'it should be' : 'its lists say'}: ${countText(differences.length, 'difference', 'differences')}.`);
    return;
  }
  process.stdout.write(`${visible(target)} is ${what} of ${countText(files, 'file', 'files')}; all are as its lists say, none is missing and none was added.\n`);
  process.stdout.write('This shows that the files are those the lists were made of. It does not show when or by whom: who can change the files can change the lists.\n');
  if (list) process.stdout.write(`Hash of the list of originals, as it stands on the cover: ${createHash('sha256').update(list).digest('hex')}\nCompare it with the one that was lodged with somebody else. That of all files of the dossier (manifest-sha256.txt) is ${manifestSha256 ?? 'not known'}.\n`);
  else if (manifestSha256) process.stdout.write(`Hash of manifest-sha256.txt: ${manifestSha256}\nCompare it with the one that was lodged with somebody else.\n`);
  for (const line of tokenLines(token)) process.stdout.write(`${visible(line)}\n`);
}

/** What a time stamp that holds says and proves, for people. */
export function tokenLines(token: TokenVerdict | null): string[] {
  if (!token?.time || token.faults.length > 0) return [];
  return [
    `Time stamp (RFC 3161): ${token.time.slice(11, 19)} UTC on ${dateText(token.time.slice(0, 10))}, signed by ${token.signer ?? 'nobody named'}.`,
    'It proves that this manifest, and so every file in it, existed before that time, if you trust who signed. It does not prove who made the files, or that what they say is right.',
    'Whether the certificate within leads to a root you trust is not judged here; openssl ts -verify does, with the certificate of that root.',
  ];
}
