import { expect, test } from 'vitest';
import type { Dossier } from '../../../src/model/dossier.ts';
import type { Item, Layout } from '../../../src/print/pdf/items.ts';
import { sampleDossier } from '../sample-dossier.ts';
import { placed, plain } from './placed.ts';

/** Tenths of a point are what an eye could tell. */
function tenth(value: number): number {
  return Math.round(value * 10) / 10;
}

/** An item in plain form, a line of JSON: what it is, where, and its words or file. */
function line(item: Item): string {
  const at = [tenth(item.x), tenth(item.y)];
  switch (item.kind) {
    case 'text':
      return JSON.stringify([item.tag.role, ...at, plain(item), ...item.runs.flatMap((run) => (run.pageOf ? [`page of ${run.pageOf}`] : []))]);
    case 'state':
      return JSON.stringify([item.kind, ...at, tenth(item.size), item.outcome]);
    case 'picture':
      return JSON.stringify([item.kind, ...at, tenth(item.width), tenth(item.height), item.file]);
    case 'link':
      return JSON.stringify([item.kind, ...at, tenth(item.width), tenth(item.height), item.href]);
    default:
      return JSON.stringify([item.kind, ...at, tenth(item.width), tenth(item.height)]);
  }
}

function json({ pages }: Layout): string {
  const part = (name: string, items: readonly Item[]): string => `  "${name}": [\n${items.map((item) => `    ${line(item)}`).join(',\n')}\n  ]`;
  return `[\n${pages.map(({ head, items, foot }) => `{\n${[part('head', head), part('items', items), part('foot', foot)].join(',\n')}\n}`).join(',\n')}\n]\n`;
}

/** The sample with short lists. */
function smallDossier(): Dossier {
  const dossier = sampleDossier();
  const sections = dossier.sections.filter(({ id }) => id !== 'bulkhead' && id !== 'cautions').map((section) => ({ ...section, blocks: section.blocks.map((block) => (block.type === 'table' ? { ...block, rows: block.rows.slice(0, 6) } : block)) }));
  return { ...dossier, sections };
}

// A change of the layout shows as a difference of this file: read it, then write it anew with `vitest -u` and commit it with its cause.
test('a small dossier is laid out as it was', async () => {
  const text = json(placed(smallDossier()).layout);
  expect(() => JSON.parse(text) as unknown).not.toThrow();
  await expect(text).toMatchFileSnapshot('small-dossier.layout.json');
});
