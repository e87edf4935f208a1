import type { Block, Dossier, Inline } from '../../../src/model/dossier.ts';
import { openFonts } from '../../../src/print/pdf/fonts.ts';
import type { Fonts } from '../../../src/print/pdf/fonts.ts';
import { layOut } from '../../../src/print/pdf/index.ts';
import type { Item, Layout, TextItem } from '../../../src/print/pdf/items.ts';
import { geometryOf } from '../../../src/print/pdf/look.ts';
import type { Geometry } from '../../../src/print/pdf/look.ts';

/** A dossier laid out on a paper. Fonts given are those opened before, whose missing letters are of all dossiers. */
export function placed(dossier: Dossier, size: 'A4' | 'Letter' = 'A4', fonts: Fonts = openFonts()): { layout: Layout; geometry: Geometry; missing: string[] } {
  const geometry = geometryOf(size);
  const layout = layOut(dossier, fonts, geometry, { role: 'Document', parent: null });
  return { layout, geometry, missing: fonts.missing().map(({ found }) => found) };
}

/** Words of a text item. */
export function plain(item: TextItem): string {
  return item.runs.map((run) => run.shaped.text).join('');
}

/** Text items of a page or of several. */
export function textsOf(items: readonly Item[]): TextItem[] {
  return items.filter((item) => item.kind === 'text');
}

function widthOf(item: Item): number {
  if (item.kind === 'state') return item.size;
  if (item.kind !== 'text') return item.width;
  // Spaces at the end of a line may hang out, words may not.
  const last = item.runs.findLastIndex(({ shaped }) => shaped.text.trim() !== '');
  return item.runs.slice(0, last + 1).reduce((sum, { shaped, size }, index) => {
    const spaces = index === last ? (/ *$/.exec(shaped.text)?.[0].length ?? 0) : 0;
    return sum + ((shaped.width - spaces * 260) * size) / 1000;
  }, 0);
}

/** What reaches beyond the body of its page, in words. */
export function outside({ pages }: Layout, page: Geometry): string[] {
  return pages.flatMap(({ items }, index) => items.flatMap((item) => {
    const height = item.kind === 'text' || item.kind === 'state' ? 0 : item.height;
    const within = item.x >= page.left - 0.01 && item.x + widthOf(item) <= page.left + page.bodyWidth + 0.3 && item.y >= page.top - 0.01 && item.y + height <= page.bottom + 0.01;
    return within ? [] : [`page ${index + 1}: ${item.kind} ${item.kind === 'text' ? plain(item) : ''} at ${item.x}, ${item.y}`];
  }));
}

/** All words in the order they are heard, without spaces: what is decoration is not heard. */
export function heard({ pages }: Layout): string {
  return pages.flatMap(({ items }) => textsOf(items).filter(({ tag }) => tag.role !== 'Artifact').map(plain)).join('').replace(/\s+/g, '');
}

function said(inline: Inline): string {
  return inline.map((span) => (typeof span === 'string' ? span : span.text)).join('');
}

/** The texts of blocks in the order of the dossier, for the kinds that are words. */
export function wordsOf(blocks: readonly Block[]): string[] {
  return blocks.flatMap((block): string[] => {
    switch (block.type) {
      case 'heading':
        return [block.text];
      case 'paragraph':
      case 'remark':
        return [said(block.inline)];
      case 'table':
        return [block.caption, ...block.rows.flatMap(({ cells }) => cells.map(({ inline }) => said(inline)))];
      case 'photos':
        return block.figures.map(({ caption }) => said(caption));
      case 'steps':
        return block.items.flatMap(({ title, why, what, figures, cautions }) => [title, why, what, figures ?? [], cautions].map(said));
      case 'outlook':
        return [block.caption, ...block.items.flatMap(({ name, inline, bars }) => [name, said(inline), ...bars.flatMap(({ label, text }) => [label, text])])];
      case 'caution':
        return [block.title, block.when, ...block.points, said(block.source)];
      case 'list':
        return block.items.flatMap(wordsOf);
      case 'quote':
        return wordsOf(block.blocks);
      default:
        return [];
    }
  });
}

/** The texts that are not heard after those before them. */
export function outOfOrder(all: string, texts: readonly string[]): string[] {
  let from = 0;
  return texts.flatMap((text) => {
    const wanted = text.replace(/\s+/g, '');
    const at = all.indexOf(wanted, from);
    if (at < 0) return [text];
    from = at + wanted.length;
    return [];
  });
}
