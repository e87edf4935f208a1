import type { Block, Section } from '../../model/dossier.ts';

/** Every anchor of a dossier and the page it stands on. */
export type Anchors = ReadonlyMap<string, string>;

/**
 * Finds every anchor: of sections, headings, rows of tables, figures, pairs, steps, outlooks and cautions.
 * @throws where one stands twice: a link could then lead to the wrong place. Our own mistake.
 */
export function anchorsOf(sections: readonly Section[]): Anchors {
  const anchors = new Map<string, string>();
  for (const section of sections) {
    for (const anchor of [section.id, ...section.blocks.flatMap(anchorsIn)]) {
      const before = anchors.get(anchor);
      if (before !== undefined) throw new Error(`Anchor "${anchor}" stands twice, on page "${before}" and on "${section.page}".`);
      anchors.set(anchor, section.page);
    }
  }
  return anchors;
}

function anchorsIn(block: Block): string[] {
  switch (block.type) {
    case 'heading':
      return block.id === undefined ? [] : [block.id];
    case 'pair':
      return block.id === undefined ? [] : [block.id];
    case 'table':
      return block.rows.flatMap((row) => row.id ?? []);
    case 'photos':
      return block.figures.flatMap((figure) => figure.id ?? []);
    case 'steps':
      return block.items.map((step) => step.id);
    case 'outlook':
      return block.items.flatMap((item) => item.id ?? []);
    case 'plots':
      return block.scales.flatMap(({ items }) => items.flatMap((item) => item.id ?? []));
    case 'caution':
      return [block.id];
    case 'list':
      return block.items.flatMap((item) => item.flatMap(anchorsIn));
    case 'quote':
      return block.blocks.flatMap(anchorsIn);
    case 'paragraph':
    case 'facts':
    case 'zones':
    case 'timeline':
    case 'remark':
    case 'code':
    case 'rule':
      return [];
  }
}
