import { expect, test } from 'vitest';
import { place } from '../../src/place/index.ts';
import { catalogue, notesOf } from '../read/notes-helper.ts';
import { noRates } from '../../src/model/rates.ts';
import { settingsSchema } from '../../src/model/settings.ts';

function outcomeOf(line: string): string | undefined {
  const { notes } = notesOf(`# Car\n- body: saloon\n# Sill, left\n- plug, inner face 1: ${line}\n`);
  const { zones } = place({ catalogue, settings: settingsSchema.parse({}), notes, rates: noRates, photos: [], notices: [] });
  return zones.find((zone) => zone.zone.id === 'sill-left')?.rows.find((row) => row.place === 'inner face 1')?.outcome;
}

// A plug counts as sound only when it is there, still elastic and held tight: common practice, no source.
test.each([
  ['sound', 'sound'],
  ['sound. pressed', 'sound'],
  ['sound, in place', 'sound'],
  ['in place', 'cannot tell'],
  ['in place, hardened', 'defect'],
  ['sound, loose', 'defect'],
  ['sound. told by the seller', 'not seen'],
  ['in place, pressed hard', 'cannot tell'],
  ['missing', 'defect'],
])('a plug that is %s counts as %s', (line, outcome) => {
  expect(outcomeOf(line)).toBe(outcome);
});
