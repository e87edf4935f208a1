import type { BlockOf, Cell, Inline } from '../../model/dossier.ts';
import { words } from '../../model/printed-words.ts';
import { lowestWidths } from './columns.ts';
import { stripOf, tagUnder } from './items.ts';
import type { Item, Slab, Strip, Tag } from './items.ts';
import { widestWord } from './lines.ts';
import type { Piece } from './lines.ts';
import { colours, styles } from './look.ts';
import { abreast, hairline, keptWithNext, padded, pageNumberPiece, paragraph, piecesOf, slabsOf, stacked, statePieces } from './strips.ts';
import type { Frame, Setting } from './strips.ts';

interface Column {
  title: string;
  align: 'left' | 'right';
  weight: number;
}

/** A table of set cells: what tables and the index of zones have in common. */
interface Grid {
  caption: string;
  columns: Column[];
  rows: { anchors: string[]; cells: Piece[][] }[];
}

/** Room above and below the words of a row, and between columns. */
const rowPad = 2.4;
const gutter = 10;
/** A column is widened for its longest word up to this; longer words (hashes, paths) are cut. */
const widestMinimum = 92;

/** A table: its head repeated on each page, rows whole unless one is taller than a page. */
export function tableStrips(setting: Setting, block: BlockOf<'table'>, frame: Frame): Strip[] {
  const columns = block.columns.map(({ title, align, weight }) => ({ title, align: align ?? ('left' as const), weight }));
  const rows = block.rows.map(({ id, cells }) => ({
    anchors: id ? [id] : [],
    cells: columns.map((_, index) => cellPieces(cells[index])),
  }));
  return gridStrips(setting, { caption: block.caption, columns, rows }, frame);
}

/** The index of zones: name as a link, state, what was seen, what matters, page. */
export function zonesStrips(setting: Setting, block: BlockOf<'zones'>, frame: Frame): Strip[] {
  const columns: Column[] = [
    { title: words.pdf.zone, align: 'left', weight: 24 },
    { title: words.pdf.state, align: 'left', weight: 15 },
    { title: words.pdf.coverage, align: 'left', weight: 25 },
    { title: words.pdf.whatMatters, align: 'left', weight: 30 },
    { title: words.pdf.page, align: 'right', weight: 6 },
  ];
  const rows = block.items.map(({ zone, name, state, structure, coverage, gist }) => {
    const inline: Inline = [{ text: name, href: `#${zone}` }];
    if (structure) inline.push({ text: `\n${words.pdf.structure}`, quiet: true });
    const number = pageNumberPiece(zone, styles.cell, { href: `#${zone}`, words: `${name}, ${words.pdf.onPage}` });
    return { anchors: [], cells: [piecesOf(inline, styles.cell), statePieces(state, styles.cell), piecesOf([coverage], styles.cell), piecesOf([gist], styles.cell), [number]] };
  });
  return gridStrips(setting, { caption: '', columns, rows }, frame);
}

function cellPieces(cell: Cell | undefined): Piece[] {
  if (!cell) return [];
  const text = piecesOf(cell.inline, styles.cell);
  if (!cell.state) return text;
  const state = statePieces(cell.state, styles.cell);
  return text.some((piece) => piece.text) ? [...state, ...piecesOf([{ text: ' · ', quiet: true }], styles.cell), ...text] : state;
}

function gridStrips(setting: Setting, grid: Grid, frame: Frame): Strip[] {
  const table = tagUnder(frame.tag, 'Table');
  const cells = columnFrames(setting, grid, frame);
  const head = headSlab(setting, grid, cells, frame, tagUnder(table, 'TR'));
  const repeat = repeatedHead(setting, grid, cells, frame);
  const most = setting.bodyHeight - repeat.height - 2 * rowPad;
  const strips: Strip[] = [];
  if (grid.caption) {
    const tag = tagUnder(table, 'Caption');
    strips.push(...keptWithNext(paragraph(setting, piecesOf([grid.caption], styles.smallStrong), styles.smallStrong, { ...frame, tag }, 12)));
  }
  strips.push(stripOf(head, { before: grid.caption ? 1 : 10, keep: true }));
  grid.rows.forEach((row, index) => {
    const tr = tagUnder(table, 'TR');
    const columns = row.cells.map((pieces, at) => cellSlabs(setting, grid, cells, at, pieces, tagUnder(tr, 'TD')));
    abreast(columns, most).forEach((slab, part, parts) => {
      const isFirst = part === 0;
      const room = padded(slab, isFirst ? rowPad : 0, part === parts.length - 1 ? rowPad : 0);
      if (part === parts.length - 1) room.items.push(hairline(frame.x, room.height, frame.width));
      // Neither the first row nor the last is alone on its page.
      strips.push(stripOf(room, { repeat, anchors: isFirst ? row.anchors : [], keep: isFirst && parts.length === 1 && grid.rows.length > 2 && (index === 0 || index === grid.rows.length - 2) }));
    });
  });
  return strips;
}

interface CellFrame {
  x: number;
  width: number;
}

/** Widths by weight, then widened for words that would be cut, at the cost of columns with room to spare, then such that the table is low. */
function columnFrames(setting: Setting, grid: Grid, frame: Frame): CellFrame[] {
  const room = frame.width - gutter * (grid.columns.length - 1);
  const weights = grid.columns.reduce((sum, column) => sum + column.weight, 0);
  const shares = grid.columns.map((column) => (column.weight / weights) * room);
  const needs = grid.columns.map((column, index) => {
    const head = widestWord(setting.fonts, piecesOf([column.title], styles.smallHead));
    const widest = grid.rows.reduce((most, row) => Math.max(most, widestWord(setting.fonts, row.cells[index] ?? [])), head);
    return Math.min(widest + 0.5, widestMinimum);
  });
  const lacking = shares.reduce((sum, share, index) => sum + Math.max(0, (needs[index] ?? 0) - share), 0);
  const spare = shares.reduce((sum, share, index) => sum + Math.max(0, share - (needs[index] ?? 0)), 0);
  const given = Math.min(lacking, spare);
  const wide = shares.map((share, index) => {
    const difference = share - (needs[index] ?? 0);
    return difference < 0 ? share - (difference * given) / lacking : share - (spare > 0 ? (difference * given) / spare : 0);
  });
  const heads = grid.columns.map((column) => piecesOf([column.title], styles.smallHead));
  let x = frame.x;
  return lowestWidths(setting.fonts, [heads, ...grid.rows.map((row) => row.cells)], wide, needs).map((width) => {
    const cell = { x, width };
    x += width + gutter;
    return cell;
  });
}

function cellSlabs(setting: Setting, grid: Grid, cells: readonly CellFrame[], at: number, pieces: readonly Piece[], tag: Tag): Slab[] {
  const cell = cells[at] ?? { x: 0, width: 0 };
  if (!pieces.some((piece) => piece.text || piece.shape)) return [emptyCell(cell, tag)];
  return slabsOf(setting, pieces, styles.cell, { ...cell, tag }, grid.columns[at]?.align);
}

/** An empty cell keeps its node, so that every row of the structure tree has as many cells as the head. */
function emptyCell(cell: CellFrame, tag: Tag): Slab {
  return { height: styles.cell.lineHeight, items: [{ kind: 'text', x: cell.x, y: 0, runs: [], tag }] };
}

function headSlab(setting: Setting, grid: Grid, cells: readonly CellFrame[], frame: Frame, row: Tag): Slab {
  const columns = grid.columns.map((column, index) => {
    const cell = cells[index] ?? { x: 0, width: 0 };
    return slabsOf(setting, piecesOf([column.title], styles.smallHead), styles.smallHead, { ...cell, tag: tagUnder(row, 'TH') }, column.align);
  });
  const slab = padded(abreast(columns, setting.bodyHeight)[0] ?? { height: 0, items: [] }, 2, 3);
  return { ...slab, items: [...slab.items, hairline(frame.x, slab.height, frame.width, colours.slate, 0.8)] };
}

/** The head once more at the top of a page, as decoration: readers by ear have it already. */
function repeatedHead(setting: Setting, grid: Grid, cells: readonly CellFrame[], frame: Frame): Slab {
  const decoration: Tag = { role: 'Artifact', parent: null };
  const head = headSlab(setting, grid, cells, frame, decoration);
  const note = grid.caption ? `${grid.caption}, ${words.pdf.continued}` : words.pdf.continued;
  const caption = slabsOf(setting, piecesOf([{ text: note, quiet: true }], styles.small), styles.small, { ...frame, tag: decoration });
  const slab = stacked([...caption, head]);
  return { ...slab, items: slab.items.map((item): Item => (item.kind === 'text' ? { ...item, tag: decoration } : item)) };
}
