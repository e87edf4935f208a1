import type { BlockOf } from '../../model/dossier.ts';
import { stripOf, tagUnder } from './items.ts';
import type { Slab, Strip } from './items.ts';
import type { Piece } from './lines.ts';
import { colours, styles } from './look.ts';
import { abreast, flowing, hairline, padded, piecesOf, slabsOf } from './strips.ts';
import type { Frame, Setting } from './strips.ts';

type Fact = BlockOf<'facts'>['items'][number];

const gutter = 16;
const widestTerm = 150;

/** Facts: key ones as a band of up to four abreast, plain ones as a list of terms and values. */
export function factsStrips(setting: Setting, block: BlockOf<'facts'>, frame: Frame): Strip[] {
  const list = tagUnder(frame.tag, 'L', { numbering: 'None' });
  return block.look === 'key' ? keyStrips(setting, block.items, { ...frame, tag: list }) : plainStrips(setting, block.items, { ...frame, tag: list });
}

function keyStrips(setting: Setting, items: readonly Fact[], frame: Frame): Strip[] {
  // Rows of even length: 4, 3 + 3 or 3 + 2, 4 + 4.
  const rowCount = Math.ceil(items.length / 4);
  const perRow = Math.ceil(items.length / rowCount);
  const width = (frame.width - gutter * (perRow - 1)) / perRow;
  const strips: Strip[] = [];
  for (let start = 0; start < items.length; start += perRow) {
    const columns = items.slice(start, start + perRow).map((fact, index) => {
      const entry = tagUnder(frame.tag, 'LI');
      const x = frame.x + index * (width + gutter);
      return keySlabs(setting, fact, { x, width, tag: entry });
    });
    const rows = abreast(columns, setting.bodyHeight).map((slab) => padded(slab, 6, 6));
    for (const row of rows) {
      columns.forEach((_, index) => row.items.push(hairline(frame.x + index * (width + gutter), 0, width, colours.slate, 0.6)));
    }
    strips.push(...flowing(rows, start === 0 ? 16 : 4));
  }
  return strips;
}

function keySlabs(setting: Setting, fact: Fact, frame: Frame): Slab[] {
  const body = { ...frame, tag: tagUnder(frame.tag, 'LBody') };
  const slabs = [
    ...slabsOf(setting, piecesOf([fact.term], styles.quiet), styles.quiet, { ...frame, tag: tagUnder(frame.tag, 'Lbl') }),
    ...slabsOf(setting, valuePieces(fact), styles.keyValue, body),
  ];
  if (fact.note) slabs.push(...slabsOf(setting, piecesOf([fact.note], styles.quiet), styles.quiet, body));
  return slabs;
}

/** The figure stands out; "of 52 known openings" beside it does not. */
function valuePieces(fact: Fact): Piece[] {
  const { face, size } = styles.body;
  return piecesOf(fact.value, styles.keyValue).map((piece) => (piece.colour === colours.soft ? { ...piece, face, size } : piece));
}

function plainStrips(setting: Setting, items: readonly Fact[], frame: Frame): Strip[] {
  const termWidth = Math.min(widestTerm, frame.width * 0.36);
  const strips = items.flatMap((fact, index) => {
    const entry = tagUnder(frame.tag, 'LI');
    const body: Frame = { x: frame.x + termWidth + gutter, width: frame.width - termWidth - gutter, tag: tagUnder(entry, 'LBody') };
    const term = slabsOf(setting, piecesOf([fact.term], styles.quiet), { ...styles.quiet, lineHeight: styles.body.lineHeight }, { x: frame.x, width: termWidth, tag: tagUnder(entry, 'Lbl') });
    const value = slabsOf(setting, piecesOf(fact.value, styles.body), styles.body, body);
    if (fact.note) value.push(...slabsOf(setting, piecesOf([fact.note], styles.quiet), styles.quiet, body));
    return abreast([term, value], setting.bodyHeight - 8).map((slab, part) => {
      const room = padded(slab, 3, 3);
      if (part === 0) room.items.push(hairline(frame.x, 0, frame.width));
      return stripOf(room, { before: index === 0 && part === 0 ? 10 : 0 });
    });
  });
  const last = strips.at(-1);
  last?.items.push(hairline(frame.x, last.height, frame.width));
  return strips;
}
