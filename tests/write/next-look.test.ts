import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import type { Block } from '../../src/model/dossier.ts';
import type { Section } from '../../src/model/dossier.ts';
import { dossierOf, inlinesOf, judged, textOf } from './builders.ts';

const dossier = dossierOf(judged(readFileSync('sample-job/2026-03-14/findings.md', 'utf8'), ['IMG_4021.jpg', 'IMG_4022.jpg', 'SC_0007.jpg']));
const section = (id: string): Section => {
  const found = dossier.sections.find((one) => one.id === id);
  if (!found) throw new Error(`no section ${id}`);
  return found;
};

test('the look to take next is the same wherever one is named, and the shortest is told from it in the same sentence', () => {
  const looks = section('outlook').blocks.flatMap((block) => (block.type === 'table' && block.columns[0]?.title === 'Look' ? block.rows : []));
  const [first] = looks[0]?.cells ?? [];
  const name = first?.inline.map((run) => (typeof run === 'string' ? run : run.text))[0] ?? 'no look';
  expect(name).toMatch(/^[A-Z]/);
  const fact = section('summary').blocks.flatMap((block) => (block.type === 'facts' ? block.items : [])).find(({ term }) => term === 'Look next');
  expect(fact?.value.map((run) => (typeof run === 'string' ? run : run.text)).join('')).toContain(name);
  const sentence = (id: string): string => section(id).blocks.map((block) => textOf([block])).find((text) => text.startsWith('The look to take next')) ?? '';
  expect(sentence('steps')).toContain(name);
  expect(sentence('not-seen')).toContain(name);
  expect(sentence('not-seen')).toContain('the shortest is Floor, right');
});

test('what was not seen is one set of numbers: zones, known openings and kinds are the same on every page', () => {
  const unseen = dossier.register.filter((row) => row.outcome === 'not seen');
  const known = unseen.filter((row) => row.known !== 'kind').length;
  const kinds = unseen.length - known;
  const fact = section('summary').blocks.flatMap((block) => (block.type === 'facts' ? block.items : [])).find(({ term }) => term === 'Not seen');
  const [, zones, all, silent, written] = /^(\d+) of (\d+) zones; nothing of them was seen \((\d+) nothing was written about, (\d+) written about, but not seen\)/.exec(`${textOf([{ type: 'paragraph', inline: fact?.value ?? [] }])}; ${fact?.note ?? ''}`) ?? [];
  expect(Number(silent) + Number(written)).toBe(Number(zones));
  expect(fact?.note).toContain(`${known} of ${dossier.coverage.known} known openings`);
  expect(fact?.note).toContain(`${kinds} kinds of opening nobody counted`);
  expect(textOf(section('not-seen').blocks)).toContain(`nothing was seen of ${zones} of ${all} zones (${silent} nothing was written about, ${written} written about, but not seen)`);
  expect(textOf(section('register').blocks)).toContain(`${known} are known openings and ${kinds} are kinds nobody counted`);
});

test('from the outlook of a section a link leads to what it rests on: lines seen and not seen, and each assumption in the method', () => {
  const method = section('method').blocks.flatMap((block) => (block.type === 'table' ? [block] : []));
  const rows = new Map(method.flatMap((block) => block.rows.map((row) => [row.id ?? '', row] as const)));
  const hrefsOf = (block: Block): string[] => inlinesOf(block).flat().flatMap((run) => (typeof run === 'string' ? [] : run.href?.slice(1) ?? []));
  const outlooks = dossier.sections.filter(({ page }) => page.startsWith('zones/')).flatMap(({ blocks }) => blocks).filter((block) => block.type === 'outlook');
  const led = outlooks.flatMap(hrefsOf).filter((anchor) => anchor.startsWith('rests--'));
  expect(led.length).toBe(outlooks.flatMap(({ items }) => items).length);
  expect(led.filter((anchor) => !rows.has(anchor))).toEqual([]);
  const inputs = method.filter((block) => block.rows.some(({ id }) => id?.startsWith('rests--'))).flatMap(hrefsOf);
  const assumed = inputs.filter((anchor) => anchor.startsWith('assumption--'));
  expect(assumed.length).toBeGreaterThan(20);
  expect(assumed.filter((anchor) => !rows.has(anchor))).toEqual([]);
  expect(inputs).toContain('sill-left--not-counted');
});
