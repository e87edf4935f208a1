import type { Block, Dossier, Figure, Inline } from '../../../src/model/dossier.ts';

/** Words of a dossier, in the order they are to be read. `whole` where they are set as one text, which no neighbour may come between. */
export interface Said {
  section: string;
  text: string;
  whole: boolean;
}

/** What is said in the sections of a dossier; blocks whose words the PDF puts differently (map, plots, outlook, timeline) are left out. */
export function wordsOf(dossier: Dossier): Said[] {
  return dossier.sections.flatMap(({ id, title, blocks }) => {
    const all: Said[] = [];
    const say = (text: string, whole = true): number => all.push({ section: id, text, whole });
    say(title);
    for (const block of blocks) sayBlock(block, say);
    return all.filter(({ text }) => text.trim() !== '');
  });
}

const plain = (inline: Inline | undefined): string => (inline ?? []).map((part) => (typeof part === 'string' ? part : part.text)).join('');

function sayBlock(block: Block, say: (text: string, whole?: boolean) => void): void {
  const sayFigure = ({ caption }: Figure): void => say(plain(caption));
  switch (block.type) {
    case 'heading':
    case 'code':
      return say(block.text, block.type === 'heading');
    case 'paragraph':
    case 'remark':
      return say(plain(block.inline));
    case 'list':
      return block.items.flat().forEach((inner) => sayBlock(inner, say));
    case 'quote':
      return block.blocks.forEach((inner) => sayBlock(inner, say));
    case 'photos':
      return block.figures.forEach(sayFigure);
    case 'pair':
      [block.title, plain(block.before.caption), plain(block.after.caption)].forEach((text) => say(text));
      return say(plain(block.caption));
    case 'caution':
      return [block.title, block.when, ...block.points].forEach((text) => say(text));
    case 'steps':
      return block.items.forEach(({ title, why, what, figures }) => [title, why, what, figures].forEach((inline) => say(plain(inline))));
    case 'table':
      say(block.caption);
      block.columns.forEach(({ title }) => say(title, false));
      return block.rows.forEach(({ cells }) => cells.forEach(({ inline }) => say(plain(inline), false)));
    default:
      return undefined;
  }
}
