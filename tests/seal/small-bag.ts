import { mkdirSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { gather } from '../../src/seal/gather.ts';
import { packBag } from '../../src/seal/pack.ts';
import type { Packed } from '../../src/seal/pack.ts';
import { folderSink, zipSink } from '../../src/seal/sink.ts';

/** A job of a few files with odd names, none of them long. */
export function oddJob(folder: string): string {
  const job = path.join(folder, 'job');
  for (const [name, text] of [['findings.md', '# Car\n'], ['photos/a b.jpg', 'one'], ['photos/100%.jpg', 'two'], ['photos/äö.jpg', 'three'], ['receipt.pdf', 'four'], ['issues/1/index.html', 'five'], ['.sillbook/x', 'no'], ['out/x', 'no'], ['photos/out/y.jpg', 'six']] as const) {
    mkdirSync(path.dirname(path.join(job, name)), { recursive: true });
    writeFileSync(path.join(job, name), text);
  }
  return job;
}

/** Packs a folder without dossiers, as a folder or a ZIP. */
export async function packSmall(job: string, target: string, more: { token?: Uint8Array; publicCopy?: boolean; expected?: Map<string, string> } = {}): Promise<Packed> {
  const { files } = await gather(job, ['']);
  const sink = target.endsWith('.zip') ? await zipSink(target, 'bag', '2026-03-15') : (mkdirSync(target), folderSink(target));
  const input = { files, expected: more.expected ?? new Map<string, string>(), dossiers: [], visits: [''], readme: { title: 'Test 1', seenOn: null, editions: [] }, publicCopy: more.publicCopy ?? false, info: [['Bagging-Date', '2026-03-15'], ['Bag-Software-Agent', 'Sillbook test']] as const, token: more.token ?? null };
  return packBag(input, sink);
}
