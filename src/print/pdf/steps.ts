import type { BlockOf } from '../../model/dossier.ts';
import { tagUnder } from './items.ts';
import type { Strip } from './items.ts';
import type { Piece } from './lines.ts';
import { styles } from './look.ts';
import { anchored, hairline, keptIfShort, keptWithNext, padded, paragraph, piecesOf, slabsOf, statePieces, textFrame } from './strips.ts';
import type { Frame, Setting } from './strips.ts';

const numberRoom = 24;

/** What to do first, in order: number and title, state with further words, why, what, what it is about in numbers, and the cautions. */
export function stepsStrips(setting: Setting, block: BlockOf<'steps'>, frame: Frame): Strip[] {
  const list = tagUnder(frame.tag, 'L', { numbering: 'Decimal' });
  return block.items.flatMap((step, index) => {
    const entry = tagUnder(list, 'LI');
    const label = slabsOf(setting, piecesOf([`${index + 1}.`], styles.number), styles.number, { x: frame.x, width: numberRoom, tag: tagUnder(entry, 'Lbl') });
    const body = tagUnder(entry, 'LBody');
    const inner = (): Frame => ({ ...textFrame({ ...frame, width: frame.width - numberRoom }), x: frame.x + numberRoom, tag: tagUnder(body, 'P') });
    const strips = [
      ...keptWithNext(paragraph(setting, piecesOf(step.title, styles.stepTitle), styles.stepTitle, inner(), 0)),
      ...keptWithNext(paragraph(setting, statePart(step), styles.small, inner(), 1)),
      ...paragraph(setting, piecesOf(step.why, styles.body), styles.body, inner(), 4),
      ...paragraph(setting, piecesOf(step.what, styles.body), styles.body, inner(), 4),
      ...paragraph(setting, piecesOf(step.figures ?? [], styles.small), styles.small, inner(), 4),
      ...paragraph(setting, piecesOf(step.cautions, styles.small), styles.small, inner(), 4),
    ];
    const last = strips.at(-1);
    if (last) last.keep = false;
    return anchored(keptIfShort(numbered(strips, label[0]?.items ?? [], frame, index), setting.bodyHeight / 4), [step.id]);
  });
}

/** The state with further words; nothing for the step that gathers what several works need: it is the state of no one thing. */
function statePart({ id, state, tags }: BlockOf<'steps'>['items'][number]): Piece[] {
  if (id === 'step-needs') return [];
  return [...statePieces(state, styles.small), ...piecesOf([{ text: tags.map((tag) => ` · ${tag}`).join(''), quiet: true }], styles.small)];
}

/** Adds the number beside the first line and a hairline above the step. */
function numbered(strips: readonly Strip[], label: Strip['items'], frame: Frame, index: number): Strip[] {
  const [first, ...rest] = strips;
  if (!first) return [];
  const slab = padded({ height: first.height, items: [...label, ...first.items] }, 7, 0);
  // The first step stands below a heading's line or a paragraph.
  if (index > 0) slab.items.push(hairline(frame.x, 0, frame.width));
  return [{ ...first, ...slab, before: index === 0 ? 2 : 9 }, ...rest];
}
