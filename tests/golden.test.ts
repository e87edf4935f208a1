import { readFileSync } from 'node:fs';
import path from 'node:path';
import { expect, test } from 'vitest';
import { scratch, sillbook } from './commands/command-line.ts';

/**
 * The sample's dossier, line by line. When it changes, read the difference; if it is meant, run `npm run golden` and
 * commit it with its cause.
 */
test('the sample job gives the dossier that is kept with it', () => {
  const place = scratch();
  try {
    const out = path.join(place.folder, 'out');
    const ran = sillbook(['build', 'sample-job', '--out', out]);
    expect(ran.code, ran.err).toBe(0);
    const made = readFileSync(path.join(out, 'dossier.json'), 'utf8').split('\n');
    const kept = readFileSync('sample-job/expected/dossier.json', 'utf8').split('\n');
    const first = made.findIndex((line, index) => line !== kept[index]);
    expect(first === -1 ? '' : `line ${first + 1}: ${made[first]} — kept: ${kept[first]}`).toBe('');
    expect(made.length).toBe(kept.length);
  } finally {
    place.remove();
  }
});
