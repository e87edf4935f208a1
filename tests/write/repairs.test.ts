import { expect, test } from 'vitest';
import type { Block } from '../../src/model/dossier.ts';
import { dossierOf, judged, textOf } from './builders.ts';

function repairsOf(findings: string, edition = 'purchase'): Block[] {
  return dossierOf(judged(`# Car\n- body: saloon\n${findings}`, ['IMG_1.jpg']), edition).sections.find(({ id }) => id === 'repairs')?.blocks ?? [];
}

function rowsOf(blocks: readonly Block[]): string[][] {
  return blocks.flatMap((block) => (block.type === 'table' ? block.rows.map(({ cells }) => cells.map(({ state, inline }) => `${state ?? ''}${state ? ': ' : ''}${inline.map((run) => (typeof run === 'string' ? run : run.text)).join('')}`)) : []));
}

const floor = '\n# Floor, left\n- metal, front: patched. Welded all round, 150 x 220 mm. magnet. IMG_1.jpg\n';

test('where nothing was written, that is not called no repair', () => {
  const text = textOf(repairsOf('\n# Sill, left\n- plug, inner face 1: missing\n'));
  expect(text).toBe('No earlier repair was written down: that is not the same as none.');
});

test('each repair has its place, state, words, look, whose word, what was measured there, and photos', () => {
  const blocks = repairsOf(`${floor}- film, front: 900 um, 1,100 um\n- film, rear: 120 um\n`);
  expect(rowsOf(blocks)).toEqual([['Floor, left; metal, front', 'defect: patched', 'Welded all round, 150 x 220 mm. magnet', 'magnet; fact', 'film, front: 2 values, 900 to 1100 µm, median 1000 µm', 'IMG_1.jpg']]);
  expect(textOf(blocks)).toMatch(/^One sign of earlier repair was written down, in one zone: 1 patched\./);
});

test('what a magnet said of the same place stands beside, of another place not', () => {
  const blocks = repairsOf('\n# Floor, left\n- metal, front: patched\n- repair, front: weak magnet. magnet\n- repair, rear: weak magnet. magnet\n');
  expect(rowsOf(blocks)[0]?.[4]).toBe('magnet, sign of repair, front: weak magnet');
  expect(rowsOf(blocks)[2]?.[4]).toBe('nothing');
});

test('a repair that was only told is no look: its state stays not seen and the lead says so', () => {
  const blocks = repairsOf('\n# Floor, left\n- metal, front: patched. told by the seller\n');
  expect(rowsOf(blocks)[0]?.slice(1, 4)).toEqual(['not seen: told: patched', 'told by the seller', 'told by seller']);
  expect(textOf(blocks)).toContain('It stands on the word of somebody, not on a look.');
});

test('told and seen of one place stand side by side, and it is said where they do not agree', () => {
  const lines = (findings: string): string => textOf(repairsOf(findings));
  expect(lines(`${floor}- metal, front: sound. told by the seller\n`)).toContain('Floor, left; told by seller: metal, front: sound. Seen at that place: metal, front: patched. The two do not agree.');
  expect(lines('\n# Floor, left\n- metal, front: replaced. told by the seller\n- metal, front: sound\n')).toContain('Floor, left; told by seller: metal, front: replaced. Seen at that place: metal, front: sound. The two do not agree.');
  expect(lines(`${floor}- metal, rear: replaced. told by the seller\n`)).toContain('Seen at that place: nothing that speaks for or against it.');
  expect(lines(`${floor}- metal, front: patched. told by the seller\n`)).not.toContain('do not agree');
});

test('what was said of repairs in free words stands beside what was seen of that zone', () => {
  const text = textOf(repairsOf('- history: one owner, sills said to have been "done" once\n\n# Sill, left\n- told, seller: "both sills were done in the nineties"\n- told, seller: "never driven in winter"\n- not seen: rear third. cover strip fitted\n'));
  expect(text).toContain('Of the car: “one owner, sills said to have been "done" once”. No single place is named.');
  expect(text).toContain('Sill, left; told by seller: “both sills were done in the nineties”. Seen there: no sign of repair was written down. Not seen there: rear third.');
  expect(text).not.toContain('never driven in winter');
});

test('the words are explained, and the steps named only where the edition prints steps', () => {
  const bought = textOf(repairsOf(floor));
  expect(bought).toContain('Whether it is joined to firm steel all round');
  expect(bought).toContain('Of the first steps, these are about them: step 1');
  expect(textOf(repairsOf(floor, 'evidence'))).not.toContain('first steps');
});
