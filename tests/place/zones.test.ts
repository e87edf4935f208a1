import { expect, test } from 'vitest';
import { place } from '../../src/place/index.ts';
import { finding, jobOf, meta, photo, remark, zoneNotes } from './builders.ts';

function zonesWith(car: [string, string][]): string[] {
  return place(jobOf([], { notes: { car: car.map(([key, text]) => meta(key, text)) } })).zones.map(({ zone }) => zone.id);
}

function bodyNotices(car: [string, string][]): { rule: string; level: string; advice: string | undefined }[] {
  const { notices } = place(jobOf([], { notes: { car: car.map(([key, text]) => meta(key, text)) } }));
  return notices.filter(({ rule }) => rule.startsWith('body-')).map(({ rule, level, advice }) => ({ rule, level, advice }));
}

test('a saloon has the zones of its body, front to rear, left before right', () => {
  expect(zonesWith([['body', 'saloon']])).toEqual(['sill-left', 'sill-right', 'boot-floor']);
  expect(zonesWith([['body', 'Sedan, two-door']])).toEqual(['sill-left', 'sill-right', 'boot-floor']);
  expect(zonesWith([['body', 'van']])).toEqual(['sill-left', 'sill-right', 'boot-floor', 'step']);
});

test.each<[string, [string, string][]]>([
  ['doors: 4', [['body', 'saloon'], ['doors', '4']]],
  ['doors: five', [['body', 'saloon'], ['doors', 'five']]],
  ['in the car line', [['car', 'Larkfield 1500, four-door saloon'], ['body', 'saloon']]],
  ['in the body line', [['body', '5-door saloon']]],
])('rear doors are expected where the car is said to have them: %s', (_where, car) => {
  expect(zonesWith(car)).toContain('rear-door-left');
});

test('rear doors are not expected of a two-door car, and are where a line names one', () => {
  expect(zonesWith([['body', 'saloon'], ['doors', '2']])).not.toContain('rear-door-left');
  const named = place(jobOf([zoneNotes('rear-door-left', [remark('a dent')])]));
  expect(named.zones.map(({ zone }) => zone.id)).toEqual(['sill-left', 'sill-right', 'rear-door-left', 'rear-door-right', 'boot-floor']);
});

test('a missing or unknown body is said, and a saloon is taken', () => {
  expect(bodyNotices([])).toEqual([{ rule: 'body-missing', level: 'warning', advice: expect.stringContaining('saloon') as string }]);
  expect(zonesWith([])).toEqual(['sill-left', 'sill-right', 'boot-floor']);
  expect(bodyNotices([['body', 'sedn']])[0]).toEqual({ rule: 'body-unknown', level: 'warning', advice: expect.stringContaining('Did you mean "sedan"?') as string });
  expect(bodyNotices([['body', 'van']])).toEqual([]);
});

test('without a body line the car line may name it, which is said', () => {
  expect(zonesWith([['car', 'Larkfield van']])).toContain('step');
  expect(bodyNotices([['car', 'Larkfield van']])).toEqual([{ rule: 'body-missing', level: 'note', advice: expect.stringContaining('van') as string }]);
});

test('a zone the body does not have stays where it is written about or a photo stands in it', () => {
  const inspection = place(jobOf([zoneNotes('step', [finding('drain-slot: blocked')])]));
  expect(inspection.zones.at(-1)?.zone.id).toBe('step');
  const byPhoto = place(jobOf([], { photos: [photo('step/a.jpg')] }));
  expect(byPhoto.zones.at(-1)).toMatchObject({ zone: { id: 'step' }, entered: true, photos: ['step-a-jpg'] });
});

test('left and right know each other', () => {
  const { zones } = place(jobOf([]));
  expect(zones.map(({ partner }) => partner)).toEqual(['sill-right', 'sill-left', null]);
});

test('notes under an unknown heading are kept', () => {
  const { unplacedNotes, zones } = place(jobOf([zoneNotes(null, [remark('rust')], { narrative: [{ text: 'prose', spot: { file: 'findings.md', line: 9 } }] })]));
  expect(unplacedNotes).toEqual([{ heading: 'Somewhere', spot: { file: 'findings.md', line: 1 }, texts: ['rust', 'prose'] }]);
  expect(zones.every(({ entered }) => !entered)).toBe(true);
});
