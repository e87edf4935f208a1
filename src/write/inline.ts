import type { Block, BlockOf, Cell, Figure, Inline, Section } from '../model/dossier.ts';

/** The words of a run of text. */
export function inlineText(inline: Inline): string {
  return inline.map((part) => (typeof part === 'string' ? part : part.text)).join('');
}

/** A paragraph from words or a run of text. */
export function paragraph(...inline: Inline): BlockOf<'paragraph'> {
  return { type: 'paragraph', inline };
}

/** An aside. */
export function aside(...inline: Inline): BlockOf<'paragraph'> {
  return { type: 'paragraph', inline, tone: 'quiet' };
}

/** The answer first, larger. */
export function lead(...inline: Inline): BlockOf<'paragraph'> {
  return { type: 'paragraph', inline, tone: 'lead' };
}

/** A heading below the section's title. */
export function heading(text: string): BlockOf<'heading'> {
  return { type: 'heading', level: 3, text };
}

/** A link to an anchor of this dossier; it loses its target, not its words, where this edition does not print it. */
export function link(text: string, anchor: string): Inline[number] {
  return { text, href: `#${anchor}` };
}

/** Runs of text with `separator` between. */
export function joined(parts: readonly Inline[], separator: string): Inline {
  return parts.flatMap((part, index) => (index === 0 ? part : [separator, ...part]));
}

/** A cell of plain words. */
export function cell(...inline: Inline): Cell {
  return { inline };
}

/** A bulleted list of paragraphs; no block at all where there is nothing to list. */
export function bullets(items: readonly Inline[]): Block[] {
  return items.length === 0 ? [] : [{ type: 'list', ordered: false, items: items.map((inline) => [{ type: 'paragraph', inline }]) }];
}

/** A table; no block at all where it has no row, and no column in which nothing stands. Titles ending in `>` stand right-aligned; the number is a share of width. */
export function table(caption: string, columns: readonly (readonly [title: string, weight: number])[], rows: BlockOf<'table'>['rows']): Block[] {
  if (rows.length === 0) return [];
  const filled = columns.map((_, at) => at < 2 || rows.some((row) => (row.cells[at]?.inline.length ?? 0) > 0 || row.cells[at]?.state !== undefined));
  return [{
    type: 'table',
    caption,
    columns: columns.filter((_, at) => filled[at]).map(([title, weight]) => (title.endsWith('>') ? { title: title.slice(0, -1), weight, align: 'right' } : { title, weight })),
    rows: rows.map((row) => ({ ...row, cells: row.cells.filter((_, at) => filled[at]) })),
  }];
}

/** Terms and values, those without a value left out; no block where none is left. */
export function facts(items: readonly { term: string; value: Inline; note?: string }[]): Block[] {
  const filled = items.filter((item) => inlineText(item.value) !== '');
  return filled.length === 0 ? [] : [{ type: 'facts', look: 'plain', items: filled }];
}

/** Every anchor of the sections, in order, repeats included: sections, headings, rows, figures, pairs, steps, outlooks, cautions. */
export function anchorsOf(sections: readonly Section[]): string[] {
  return sections.flatMap((section) => [section.id, ...section.blocks.flatMap(blockAnchors)]);
}

function blockAnchors(block: Block): string[] {
  switch (block.type) {
    case 'heading':
      return block.id === undefined ? [] : [block.id];
    case 'table':
      return block.rows.flatMap((row) => (row.id === undefined ? [] : [row.id]));
    case 'photos':
      return block.figures.flatMap((figure) => (figure.id === undefined ? [] : [figure.id]));
    case 'pair':
      return block.id === undefined ? [] : [block.id];
    case 'steps':
      return block.items.map((item) => item.id);
    case 'outlook':
      return block.items.flatMap((item) => (item.id === undefined ? [] : [item.id]));
    case 'plots':
      return block.scales.flatMap(({ items }) => items.flatMap((item) => (item.id === undefined ? [] : [item.id])));
    case 'caution':
      return [block.id];
    case 'list':
      return block.items.flat().flatMap(blockAnchors);
    case 'quote':
      return block.blocks.flatMap(blockAnchors);
    default:
      return [];
  }
}

/** The same blocks with every run of text passed through `change`. */
function mapInlines(block: Block, change: (inline: Inline) => Inline): Block {
  switch (block.type) {
    case 'paragraph':
    case 'remark':
      return { ...block, inline: change(block.inline) };
    case 'facts':
      return { ...block, items: block.items.map((item) => ({ ...item, value: change(item.value) })) };
    case 'table':
      return { ...block, rows: block.rows.map((row) => ({ ...row, cells: row.cells.map((one) => ({ ...one, inline: change(one.inline) })) })) };
    case 'photos':
      return { ...block, figures: block.figures.map((figure) => ({ ...figure, caption: change(figure.caption) })) };
    case 'pair': {
      const changed = (figure: Figure): Figure => ({ ...figure, caption: change(figure.caption) });
      const during = block.during === undefined ? {} : { during: block.during.map(changed) };
      return { ...block, before: changed(block.before), after: changed(block.after), ...during, caption: change(block.caption) };
    }
    case 'steps':
      return {
        ...block,
        items: block.items.map((item) => ({
          ...item,
          title: change(item.title),
          why: change(item.why),
          what: change(item.what),
          ...(item.figures === undefined ? {} : { figures: change(item.figures) }),
          cautions: change(item.cautions),
        })),
      };
    case 'outlook':
      return { ...block, items: block.items.map((item) => ({ ...item, inline: change(item.inline) })) };
    case 'plots':
      return { ...block, scales: block.scales.map((scale) => ({ ...scale, items: scale.items.map((item) => ({ ...item, name: change(item.name), inline: change(item.inline) })) })) };
    case 'caution':
      return { ...block, source: change(block.source) };
    case 'list':
      return { ...block, items: block.items.map((item) => item.map((one) => mapInlines(one, change))) };
    case 'quote':
      return { ...block, blocks: block.blocks.map((one) => mapInlines(one, change)) };
    default:
      return block;
  }
}

/** Takes the target, not the words, from links to anchors this edition does not print. */
export function settleLinks(sections: readonly Section[]): Section[] {
  const anchors = new Set(anchorsOf(sections));
  const change = (inline: Inline): Inline =>
    inline.map((part) => {
      if (typeof part === 'string' || !part.href?.startsWith('#') || anchors.has(part.href.slice(1))) return part;
      const { href: _gone, ...kept } = part;
      return Object.keys(kept).length === 1 ? kept.text : kept;
    });
  return sections.map((section) => ({ ...section, blocks: section.blocks.map((block) => mapInlines(block, change)) }));
}
