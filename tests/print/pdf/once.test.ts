import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import type { Dossier } from '../../../src/model/dossier.ts';
import { openFonts } from '../../../src/print/pdf/fonts.ts';
import { placed, plain, textsOf } from './placed.ts';

const fonts = openFonts();
const sample = JSON.parse(readFileSync('sample-job/expected/dossier.json', 'utf8')) as Dossier;

test('what the body map shows is heard once: the small one leads to the section of the other', () => {
  // A summary of a line leaves room for the map below it.
  const sections = sample.sections.map((section) => (section.id === 'summary' ? { ...section, blocks: [{ type: 'paragraph' as const, inline: ['In short.'] }] } : section.blocks.some(({ type }) => type === 'steps') ? { ...section, blocks: section.blocks.filter(({ type }) => type !== 'steps') } : section));
  const { layout } = placed({ ...sample, sections }, 'A4', fonts);
  const texts = new Set(layout.pages.flatMap(({ items }) => items.flatMap((item) => (item.kind === 'drawing' && item.tag.alt !== undefined ? [item.tag.alt] : []))));
  const title = sample.sections.find(({ blocks }) => blocks.some((block) => block.type === 'zones' && block.map))?.title ?? '';
  expect([...texts].filter((text) => /defect: /i.test(text))).toHaveLength(1);
  expect([...texts].filter((text) => text.includes(`“${title}”`))).toHaveLength(1);
});

test('the step that gathers what several works need bears no state; the others do', () => {
  const steps = ['step-needs', 'step-sill'].map((id) => ({ id, title: [`Title of ${id}`], state: 'defect' as const, tags: [`tag of ${id}`], why: [`Why ${id}`], what: ['What.'], cautions: [] }));
  const { layout } = placed({ ...sample, sections: [{ id: 'work', title: 'Work', page: 'work', breakBefore: true, blocks: [{ type: 'steps', items: steps }] }] }, 'A4', fonts);
  const items = layout.pages.flatMap((page) => page.items);
  const words = textsOf(items).map(plain).join(' ');
  expect(items.filter(({ kind }) => kind === 'state')).toHaveLength(1);
  expect(words.match(/defect/g)).toHaveLength(1);
  expect(words).toContain('tag of step-sill');
  expect(words).not.toContain('tag of step-needs');
  expect(words).toMatch(/Title of step-needs\s+Why step-needs/);
});
