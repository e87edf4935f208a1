import { readFileSync } from 'node:fs';
import { judged, dossierOf, wordsOf } from './write/builders.ts';
const toks = (t: string): string[] => t.normalize('NFC').toLowerCase().match(/[\p{L}\p{N}]+/gu) ?? [];
const src = readFileSync(process.argv[2]!, 'utf8');
const photos = process.argv.slice(3);
const from = judged(src, photos);
for (const e of ['purchase','progress','evidence','history']) {
  const d = dossierOf(from, e); const have = new Set(toks(wordsOf(d)));
  console.log(e, [...new Set(toks(src))].filter(w => !have.has(w)).join(' '));
}
