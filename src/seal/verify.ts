import { createHash } from 'node:crypto';
import { byCodeUnit } from '../model/order.ts';
import { manifestName } from '../model/job.ts';
import { hashStored, readWhole } from './store.ts';
import type { Store } from './store.ts';
import { litter } from './verdict.ts';
import type { Verdict } from './verdict.ts';
import { verifyBag } from './verify-bag.ts';

/** Compares a bag or a dossier with its own lists. */
export async function verify(store: Store): Promise<Verdict> {
  const verdict: Verdict = { kind: 'unknown', version: null, differences: store.faults.map(({ name, what }) => ({ kind: 'wrong', name, what })), warnings: [], files: store.files.size, manifestSha256: null, token: null };
  const names = [...store.files.keys()];
  if (names.some((name) => name === 'bagit.txt' || name.startsWith('data/') || /^tagmanifest-[^/]+\.txt$/.test(name))) {
    verdict.kind = 'bag';
    await verifyBag(store, verdict);
  } else if (names.includes(manifestName) || names.includes('dossier.json')) {
    verdict.kind = 'dossier';
    await verifyDossier(store, verdict);
  }
  verdict.differences = verdict.differences.toSorted((a, b) => byCodeUnit(a.name, b.name) || byCodeUnit(a.what, b.what));
  return verdict;
}

async function verifyDossier(store: Store, verdict: Verdict): Promise<void> {
  const bytes = await readWhole(store, manifestName);
  if (bytes === null) return void verdict.differences.push({ kind: 'missing', name: manifestName, what: 'the list of hashes is not there' });
  verdict.manifestSha256 = createHash('sha256').update(bytes).digest('hex');
  const listed = new Map<string, string>();
  for (const [index, line] of bytes.toString('utf8').split('\n').entries()) {
    if (line === '') continue;
    const [, escaped, hash = '', rest = ''] = /^(\\?)([0-9a-f]{64}) {2}(.+)$/.exec(line) ?? [];
    const name = escaped ? rest.replace(/\\(.)/g, (_, code: string) => ({ n: '\n', r: '\r' })[code] ?? code) : rest;
    if (hash === '') verdict.differences.push({ kind: 'changed', name: manifestName, what: `line ${index + 1} is no hash and name` });
    else if (listed.has(name)) verdict.differences.push({ kind: 'changed', name: manifestName, what: `${name} is listed twice` });
    else listed.set(name, hash);
  }
  for (const [name, hash] of listed) {
    const found = await hashStored(store, name, ['sha256']);
    if (found === null) verdict.differences.push({ kind: 'missing', name, what: 'listed, and not there' });
    else if (found instanceof Error) verdict.differences.push({ kind: 'wrong', name, what: `cannot be read (${found.message})` });
    else if (found['sha256'] !== hash) verdict.differences.push({ kind: 'changed', name, what: 'not the bytes that were listed' });
  }
  for (const name of store.files.keys()) {
    if (name !== manifestName && !listed.has(name) && !litter.test(name)) verdict.differences.push({ kind: 'added', name, what: 'not listed' });
  }
}
