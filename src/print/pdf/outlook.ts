import type { BlockOf, Inline } from '../../model/dossier.ts';
import { words } from '../../model/printed-words.ts';
import { drawnBar } from '../bars.ts';
import type { DrawnBar } from '../bars.ts';
import { stripOf, tagUnder } from './items.ts';
import type { Item, Slab, Strip, Tag } from './items.ts';
import { styles } from './look.ts';
import type { TextStyle } from './look.ts';
import { barHeightPt } from './shapes.ts';
import { abreast, anchored, hairline, kept, keptWithNext, padded, pageNumberPiece, paragraph, piecesOf, slabsOf, stacked, textFrame } from './strips.ts';
import type { Frame, Setting } from './strips.ts';

type Outlook = BlockOf<'outlook'>['items'][number];
/** Where the numbers of a scale stand, if it has any. */
type Numbers = 'above' | 'below' | null;

const gutter = 18;
/** Share of the width for the bars; the sentence takes what they leave. */
const barShare = 0.35;
const numbersHeight = 8.5;
/** Room above and below an item. */
const pad = 5;

/** How likely it is: name, sentence and beside it thin bars on one scale, each item whole on its page. */
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
    ...keptWithNext(captionStrips(setting, block, { ...frame, tag: group })),
    ...items,
  ];
}

/** Where how to read the bars is said. No anchor of a dossier has a colon. */
const legendAnchor = 'printed:bars';

/** What the bars are about, and how to read them: in full at the first of them, by its page after that. */
function captionStrips(setting: Setting, block: BlockOf<'outlook'>, frame: Frame): Strip[] {
  const inner = (): Frame => ({ ...frame, tag: tagUnder(frame.tag, 'P') });
  const caption = piecesOf([block.caption], styles.smallStrong);
  if (setting.firstOutlook !== undefined && setting.firstOutlook !== block) {
    const link = { href: `#${legendAnchor}`, words: words.pdf.barsElsewhere };
    const aside = piecesOf([` · ${words.pdf.barsElsewhere} `], styles.quiet).map((piece) => ({ ...piece, link }));
    return paragraph(setting, [...caption, ...aside, { ...pageNumberPiece(legendAnchor, styles.quiet, link), inText: true }], styles.smallStrong, inner(), 12);
  }
  const legend = paragraph(setting, piecesOf([words.legends.bars], styles.quiet), styles.quiet, { ...textFrame(frame), tag: tagUnder(frame.tag, 'P') }, 1);
  return [...paragraph(setting, caption, styles.smallStrong, inner(), 12), ...(setting.firstOutlook === block ? anchored(legend, [legendAnchor]) : legend)];
}

/** What the bars are about once more where they go on at the top of a page, as decoration. */
function continuedSlab(setting: Setting, caption: string, frame: Frame): Slab {
  const decoration: Tag = { role: 'Artifact', parent: null };
  const [line = { height: 0, items: [] }] = slabsOf(setting, piecesOf([{ text: `${caption}, ${words.pdf.continued}`, quiet: true }], styles.small), styles.small, { ...frame, tag: decoration });
  return padded(line, 0, 4);
}

function itemStrips(setting: Setting, item: Outlook, place: { atStart: boolean; atEnd: boolean }, frame: Frame): Strip[] {
  const barWidth = frame.width * barShare;
  const left: Frame = { ...frame, width: frame.width - barWidth - gutter };
  const right: Frame = { ...frame, x: frame.x + left.width + gutter, width: barWidth };
  const text = (inline: Inline, style: TextStyle): Slab[] => slabsOf(setting, piecesOf(inline, style), style, { ...left, tag: tagUnder(frame.tag, 'P') });
  const most = setting.bodyHeight - 2 * pad - styles.small.lineHeight;
  const bars = item.bars.flatMap((bar, index) => {
    // The first scale has its numbers above, the last of several items below; those between are read by their ticks.
    const numbers = place.atStart && index === 0 ? 'above' : place.atEnd && index === item.bars.length - 1 ? 'below' : null;
    return barSlabs(setting, drawnBar(bar, index), numbers, { most, space: index === 0 ? 0 : 4 }, right);
  });
  const [first, ...rest] = abreast([[...text([item.name], styles.stepTitle), { height: 2, items: [] }, ...text(item.inline, styles.small)], bars], most);
  if (!first) return [];
  const slab = padded(first, pad, 0);
  slab.items.push(hairline(frame.x, 0, frame.width));
  return anchored(kept([stripOf(slab, { before: pad }), ...rest.map((more) => stripOf(more))]), item.id ? [item.id] : []);
}

/** One bar: label, scale and numbers in words, all of them the figure, which is heard as its alternative. */
function barSlabs(setting: Setting, bar: DrawnBar, numbers: Numbers, { most, space }: { most: number; space: number }, frame: Frame): Slab[] {
  const tag = tagUnder(frame.tag, 'Figure', { alt: bar.alt });
  const label = slabsOf(setting, piecesOf([`${bar.label} `], styles.quiet), styles.quiet, { ...frame, tag });
  const text = slabsOf(setting, piecesOf([bar.text], styles.small), styles.small, { ...frame, tag });
  const dy = numbers === 'above' ? numbersHeight : 0;
  const room = barHeightPt + (numbers === null ? 2 : numbersHeight + 2);
  const above = stacked(label).height;
  const whole = above + room + stacked(text).height;
  // Words that go over to another page are not within the figure's bounds.
  const height = whole + space <= most ? whole : above + room;
  const drawing: Item = { kind: 'range', x: frame.x, y: -above, width: frame.width, height, scale: { dx: 0, dy: above + dy, width: frame.width }, bar, tag };
  const beside = numbers === null ? [] : numberItems(setting, frame.x, frame.width, numbers === 'above' ? 6.5 : barHeightPt + 7);
  return [...(space > 0 ? [{ height: space, items: [] }] : []), ...label, { height: room, items: [drawing, ...beside] }, ...text];
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
