import { expect, test } from 'vitest';
import type { Outcome } from '../../src/model/catalogue.ts';
import type { Entry } from '../../src/model/notes.ts';
import { place } from '../../src/place/index.ts';
import { about, catalogueOf, finding, jobOf, notFitted, notSeen, opening, photo, remark, told, zone, zoneNotes } from './builders.ts';

const oneBox = catalogueOf({ zones: [zone('box', { openings: [opening('plug', ''), opening('vent', '')] })] });

function stateOf(entries: Entry[]): Outcome {
  return place(jobOf([zoneNotes('box', entries)], { catalogue: oneBox })).zones[0]!.state;
}

const vent = finding('vent: sound');

test.each<[Outcome, string, Entry[]]>([
  ['not seen', 'nothing written', []],
  ['not seen', 'only told', [finding('plug: missing', { origin: told() })]],
  ['not seen', 'remarks are no look', [remark('dusty')]],
  ['sound', 'all sound and nothing unseen', [finding('plug: sound'), vent]],
  ['sound', 'what is not fitted does not count', [notFitted('', { about: about('plug') }), vent]],
  ['cannot tell', 'sound as far as seen', [vent]],
  ['cannot tell', 'a corner nobody saw', [finding('plug: sound'), vent, notSeen('rear third')]],
  ['cannot tell', 'an opinion among them', [finding('plug: sound', { origin: { kind: 'opinion' } }), vent]],
  ['defect', 'one defect', [finding('plug: missing')]],
  ['defect', 'a defect of the metal', [finding('plug: sound'), vent, finding('metal-inside: scaling')]],
  ['not fitted', 'this body has none of it', [notFitted('all')]],
])('the state of a zone is %s: %s', (state, _why, entries) => {
  expect(stateOf(entries)).toBe(state);
});

test('coverage of the car is the sum of its zones', () => {
  const inspection = place(jobOf([zoneNotes('sill-left', [finding('plug, inner face 1: sound'), finding('plug, inner face 2: in-place')]), zoneNotes('boot-floor', [notSeen('', { about: about('plug, floor 3') })])]));
  expect(inspection.coverage).toEqual({ known: 3, seen: 2, cannotTell: 1, notFitted: 0, kindsNotCounted: 8 });
});

test('a zone counts as entered by a line, by prose or by a photo', () => {
  const entered = (given: Parameters<typeof zoneNotes>[2], entries: Entry[] = []): boolean => place(jobOf([zoneNotes('box', entries, given)], { catalogue: oneBox })).zones[0]!.entered;
  expect(entered({})).toBe(false);
  expect(entered({}, [remark('dusty')])).toBe(true);
  expect(entered({ narrative: [{ text: 'prose', spot: { file: 'findings.md' } }] })).toBe(true);
  expect(place(jobOf([], { catalogue: oneBox, photos: [photo('box/a.jpg')] })).zones[0]?.entered).toBe(true);
});
