import type { BlockOf } from '../../model/dossier.ts';
import { drawnBar } from '../bars.ts';
import type { DrawnBar } from '../bars.ts';
import { stripOf, tagUnder } from './items.ts';
import type { Item, Slab, Strip, Tag } from './items.ts';
import { styles } from './look.ts';
import { barHeightPt } from './shapes.ts';
import { abreast, anchored, hairline, kept, keptWithNext, padded, paragraph, piecesOf, slabsOf, textFrame } from './strips.ts';
import type { Frame, Setting } from './strips.ts';
import { words } from './words.ts';

type Outlook = BlockOf<'outlook'>['items'][number];
/** Where the numbers of a scale stand, if it has any. */
type Numbers = 'above' | 'below' | null;

const gutter = 14;
/** Shares of the width; the scale takes what they leave. */
const labelShare = 0.175;
const textShare = 0.37;
const numbersHeight = 8.5;

/** How likely it is: name, sentence and thin bars on one scale, each item whole on its page. */
export function outlookStrips(setting: Setting, block: BlockOf<'outlook'>, frame: Frame): Strip[] {
  const group = tagUnder(frame.tag, 'Div');
  const list = tagUnder(group, 'L', { numbering: 'None' });
  const repeat = continuedSlab(setting, block.caption, frame);
  const last = block.items.length - 1;
  const items = block.items.flatMap((item, at) => {
    const [first, ...rest] = itemStrips(setting, item, { atStart: at === 0, atEnd: at > 0 && at === last }, { ...frame, tag: tagUnder(tagUnder(list, 'LI'), 'LBody') });
    return first ? [{ ...first, repeat }, ...rest] : [];
  });
  const end = items.at(-1);
  if (end) {
    end.height += 5;
    end.items.push(hairline(frame.x, end.height, frame.width));
  }
  return [
    ...keptWithNext(paragraph(setting, piecesOf([block.caption], styles.smallStrong), styles.smallStrong, { ...frame, tag: tagUnder(group, 'P') }, 14)),
    ...keptWithNext(paragraph(setting, piecesOf([words.bars], styles.quiet), styles.quiet, { ...textFrame(frame), tag: tagUnder(group, 'P') }, 1)),
    ...items,
  ];
}

/** What the bars are about once more where they go on at the top of a page, as decoration. */
function continuedSlab(setting: Setting, caption: string, frame: Frame): Slab {
  const decoration: Tag = { role: 'Artifact', parent: null };
  const [line = { height: 0, items: [] }] = slabsOf(setting, piecesOf([{ text: `${caption}, ${words.continued}`, quiet: true }], styles.small), styles.small, { ...frame, tag: decoration });
  return padded(line, 0, 4);
}

function itemStrips(setting: Setting, item: Outlook, place: { atStart: boolean; atEnd: boolean }, frame: Frame): Strip[] {
  const text = (): Frame => ({ ...textFrame(frame), tag: tagUnder(frame.tag, 'P') });
  const bars = item.bars.map((bar, index) => {
    // The first scale has its numbers above, the last of several items below; those between are read by their ticks.
    const numbers = place.atStart && index === 0 ? 'above' : place.atEnd && index === item.bars.length - 1 ? 'below' : null;
    return barStrips(setting, drawnBar(bar, index), numbers, frame).map((strip, part) => ({ ...strip, before: part > 0 ? 0 : index === 0 ? 5 : 3 }));
  });
  const [first, ...rest] = [
    ...paragraph(setting, piecesOf([item.name], styles.stepTitle), styles.stepTitle, text(), 0),
    ...paragraph(setting, piecesOf(item.inline, styles.body), styles.body, text(), 2),
    ...bars.flat(),
  ];
  if (!first) return [];
  const slab = padded(first, 7, 0);
  slab.items.push(hairline(frame.x, 0, frame.width));
  return anchored(kept([{ ...first, ...slab, before: 7 }, ...rest]), item.id ? [item.id] : []);
}

/** One bar: label, scale and numbers in words abreast, all of them the figure, which is heard as its alternative. */
function barStrips(setting: Setting, bar: DrawnBar, numbers: Numbers, frame: Frame): Strip[] {
  const tag = tagUnder(frame.tag, 'Figure', { alt: bar.alt });
  const labelWidth = frame.width * labelShare;
  const textWidth = frame.width * textShare;
  const scale = { dx: labelWidth + gutter, dy: numbers === 'above' ? numbersHeight : 0, width: frame.width - labelWidth - textWidth - 2 * gutter };
  const above: Slab[] = numbers === 'above' ? [{ height: numbersHeight, items: [] }] : [];
  const label = slabsOf(setting, piecesOf([`${bar.label} `], styles.quiet), styles.quiet, { x: frame.x, width: labelWidth, tag });
  const text = slabsOf(setting, piecesOf([bar.text], styles.small), styles.small, { x: frame.x + frame.width - textWidth, width: textWidth, tag });
  const room: Slab = { height: barHeightPt + (numbers === null ? 0 : numbersHeight), items: [] };
  const [row = room, ...more] = abreast([[...above, ...label], [room], [...above, ...text]], setting.bodyHeight);
  const drawing: Item = { kind: 'range', x: frame.x, y: 0, width: frame.width, height: row.height, scale, bar, tag };
  const beside = numbers === null ? [] : numberItems(setting, frame.x + scale.dx, scale.width, numbers === 'above' ? 6.5 : barHeightPt + 7);
  return [{ ...row, items: [drawing, ...beside, ...row.items] }, ...more].map((slab) => stripOf(slab));
}

/** 0 to 100 along a scale, as decoration; the outer ones end where it ends. */
function numberItems(setting: Setting, x: number, length: number, baseline: number): Item[] {
  const tag: Tag = { role: 'Artifact', parent: null };
  const { face, size, colour } = styles.sheetCaption;
  return [0, 25, 50, 75, 100].map((at) => {
    const shaped = setting.fonts.shape(String(at), face);
    const width = (shaped.width * size) / 1000;
    const hang = at === 0 ? 0 : at === 100 ? width : width / 2;
    return { kind: 'text', x: x + (length * at) / 100 - hang, y: baseline, runs: [{ shaped, size, colour }], tag };
  });
}
