import { expect, test } from 'vitest';
import type { Dossier } from '../../src/model/dossier.ts';
import { changesSince } from '../../src/write/changes.ts';
import { dossierOf, judged, textOf } from './builders.ts';

const on = (day: string, plug: string): string => `# Car\n- body: saloon\n# Visit\n- seen: ${day}\n# Sill, left\n- plug, inner face 1: ${plug}\n`;
const issued = (number: string, date: string, day: string, plug: string, edition = 'purchase'): Dossier => dossierOf(judged(on(day, plug)), edition, { number, date });

const first = issued('1', '2026-03-15', '2026-03-14', 'sound');
const forInsurer = issued('2', '2026-03-16', '2026-03-14', 'sound', 'evidence');

test('a first issue has nothing before it', () => {
  expect(changesSince([], first)).toBeNull();
});

test('a correction is told against the last issue for the same reader, and takes its place; one for another reader stands beside it', () => {
  const corrected = issued('3', '2026-03-20', '2026-03-14', 'cracked');
  const changes = changesSince([first, forInsurer], corrected);
  expect(changes?.before).toEqual({ number: '1', date: '2026-03-15' });
  expect(changes?.superseded).toEqual([{ number: '1', date: '2026-03-15' }]);
  expect(changes?.beside).toEqual([{ number: '2', date: '2026-03-16', edition: 'For the insurer or valuer', seenOn: '2026-03-14' }]);
  expect(changes?.changes).toContain('Sill, left: now “plug, inner face 1: cracked”, before “plug, inner face 1: sound”.');
});

test('the first issue for a reader is told against the last of all, and takes the place of none', () => {
  const changes = changesSince([first], forInsurer);
  expect(changes).toMatchObject({ before: { number: '1' }, superseded: [], beside: [{ number: '1' }] });
  expect(changes?.changes[0]).toContain('Made for another reader');
});

test('an issue of a later visit takes the place of none, and its lines are not told as corrections of the earlier', () => {
  const later = issued('4', '2026-05-10', '2026-05-09', 'new');
  const changes = changesSince([first], later);
  expect(changes?.superseded).toEqual([]);
  expect(changes?.changes.join(' ')).not.toContain('taken out');
  expect(changes?.changes[0]).toBe('Made of the visit of 9 May 2026, before of that of 14 March 2026: what became of things between the two is told where the dossier compares visits.');
});

test('the dossier names what it takes the place of, and that the older one cannot say so', () => {
  const from = judged(on('2026-03-14', 'cracked'));
  const changes = changesSince([first, forInsurer], issued('3', '2026-03-20', '2026-03-14', 'cracked'));
  const text = textOf(dossierOf(from, 'purchase', { number: '3', date: '2026-03-20' }, { changes }).sections.find((section) => section.id === 'corrections')?.blocks ?? []);
  expect(text).toContain('It takes the place of issue 1 of 15 March 2026.');
  expect(text).toContain('cannot say so itself');
  expect(text).toContain('Issue 2 of 16 March 2026, for the insurer or valuer, of the visit of 14 March 2026');
});
