import type { Block, BlockOf, Section } from '../../model/dossier.ts';
import { words } from '../../model/printed-words.ts';
import { besidePhoto } from './beside.ts';
import { factsStrips } from './facts.ts';
import { groupsAbreast, groupsStrip, slabOf } from './groups.ts';
import { moved, stripOf, tagUnder } from './items.ts';
import type { HeadingMark, Item, Role, Slab, Strip, Tag } from './items.ts';
import { colours, styles } from './look.ts';
import type { TextStyle } from './look.ts';
import { mapStrips } from './map.ts';
import { outlookStrips } from './outlook.ts';
import { pairStrips } from './pair.ts';
import { photosStrips } from './photos.ts';
import { plotsStrips } from './plots.ts';
import { stepsStrips } from './steps.ts';
import { anchored, balanced, baselineOf, hairline, keptIfShort, keptWithNext, lined, padded, paragraph, piecesOf, slabsOf, textFrame } from './strips.ts';
import type { Frame, Setting } from './strips.ts';
import { tableStrips, zonesStrips } from './table.ts';
import { timelineStrips } from './timeline.ts';

/** A section: its title, then its blocks in order. `tag` where more is to stand in its node. */
export function sectionStrips(setting: Setting, section: Section, frame: Frame, tag: Tag = tagUnder(frame.tag, 'Sect')): Strip[] {
  const title = tagUnder(tag, 'H1');
  const strips = keptWithNext(balanced(setting, piecesOf([section.title], styles.heading1), styles.heading1, { ...frame, tag: title }, 24));
  const last = strips.at(-1);
  if (last) {
    last.height += 7;
    last.items.push(hairline(frame.x, last.height - 1, frame.width, colours.slate, 0.8));
  }
  const [first] = strips;
  if (first) {
    first.headings = [{ level: 1, text: section.title, tag: title }];
    if (section.breakBefore) first.startsPage = 'mostly';
  }
  const blocks = blocksStrips(setting, section.blocks, { ...frame, tag });
  if (blocks.length === 0 && last) last.keep = false;
  return [...anchored(strips, [section.id]), ...withoutLoneTail(blocks)];
}

/** A single line that ends a section does not stand alone on a page. */
function withoutLoneTail(strips: readonly Strip[]): Strip[] {
  const isLine = (strips.at(-1)?.height ?? 0) <= styles.body.lineHeight + 1;
  return strips.map((strip, index) => (isLine && index === strips.length - 2 ? { ...strip, keep: true } : strip));
}

/** Blocks one after the other. Heading levels of the structure tree never skip one. */
function blocksStrips(setting: Setting, blocks: readonly Block[], frame: Frame): Strip[] {
  let depth = 1;
  const strips: Strip[] = [];
  for (let at = 0; at < blocks.length; at += 1) {
    const block = blocks[at] as Block;
    const opening = besidePhoto(setting, blocks, at, frame, (paragraph, inner) => paragraphStrips(setting, paragraph, inner));
    if (opening) {
      strips.push(...opening.strips);
      at += opening.blocks - 1;
      continue;
    }
    if (block.type !== 'heading') {
      const own = blockStrips(setting, block, frame);
      strips.push(...(leadsOn(block, blocks[at + 1]) ? keptToNext(own) : own));
      continue;
    }
    depth = Math.min(block.level - 1, depth + 1);
    const groups = groupsAbreast(blocks, at, groupedPhotos);
    const row = groups.length > 0 ? groupsStrip(setting, groups, frame, (heading, inner) => headingSlab(setting, heading, depth, inner)) : null;
    strips.push(...(row ? [row] : headingStrips(setting, block, depth, frame)));
    if (row) at += 2 * groups.length - 1;
  }
  return strips;
}

/** Photos that go into one row of a contact sheet. */
const groupedPhotos = 4;

/** Whether a paragraph is said of what follows, and does not stand on another page than its beginning. */
function leadsOn(block: Block, next: Block | undefined): boolean {
  if (block.type !== 'paragraph' || next === undefined) return false;
  const end = block.inline.at(-1);
  const words = end === undefined ? '' : typeof end === 'string' ? end : end.text;
  return next.type === 'list' || next.type === 'code' || /:\s*$/.test(words);
}

function keptToNext(strips: readonly Strip[]): Strip[] {
  return strips.map((strip, index) => (index === strips.length - 1 ? { ...strip, keep: true } : strip));
}

function headingSlab(setting: Setting, block: BlockOf<'heading'>, depth: number, frame: Frame): { slab: Slab; mark: HeadingMark; before: number } {
  const strips = headingStrips(setting, block, depth, frame);
  const [first] = strips;
  return { slab: slabOf(strips), mark: first?.headings?.[0] as HeadingMark, before: first?.before ?? 0 };
}

function blockStrips(setting: Setting, block: Exclude<Block, BlockOf<'heading'>>, frame: Frame): Strip[] {
  switch (block.type) {
    case 'paragraph':
      return paragraphStrips(setting, block, frame);
    case 'facts':
      return factsStrips(setting, block, frame);
    case 'table':
      return tableStrips(setting, block, frame);
    case 'photos':
      return photosStrips(setting, block, frame);
    case 'pair':
      return pairStrips(setting, block, frame);
    case 'steps':
      return stepsStrips(setting, block, frame);
    case 'outlook':
      return outlookStrips(setting, block, frame);
    case 'plots':
      return plotsStrips(setting, block, frame);
    case 'timeline':
      return timelineStrips(setting, block, frame);
    case 'zones':
      return [...(block.map ? mapStrips(setting, block.map, frame) : []), ...(block.items.length > 0 ? zonesStrips(setting, block, frame) : [])];
    case 'caution':
      return cautionStrips(setting, block, frame);
    case 'remark':
      return remarkStrips(setting, block, frame);
    case 'code':
      return codeStrips(setting, block, frame);
    case 'rule':
      return [stripOf({ height: 1, items: [hairline(frame.x, 0.5, frame.width)] }, { before: 12 })];
    case 'list':
      return listStrips(setting, block, frame);
    case 'quote':
      return quoteStrips(setting, block, frame);
  }
}

const headingLooks: Record<number, { role: Role; style: TextStyle; before: number }> = {
  2: { role: 'H2', style: styles.heading2, before: 16 },
  3: { role: 'H3', style: styles.heading3, before: 12 },
  4: { role: 'H4', style: styles.heading4, before: 12 },
};

function headingStrips(setting: Setting, block: BlockOf<'heading'>, depth: number, frame: Frame): Strip[] {
  const { role, style, before } = headingLooks[depth] ?? { role: 'H4' as const, style: styles.heading4, before: 12 };
  const tag = tagUnder(frame.tag, role);
  const strips = keptWithNext(paragraph(setting, piecesOf([block.text], style), style, { ...textFrame(frame), tag }, before));
  const [first] = strips;
  if (first) first.headings = [{ level: depth, text: block.text, tag }];
  return block.id ? anchored(strips, [block.id]) : strips;
}

function paragraphStrips(setting: Setting, block: BlockOf<'paragraph'>, frame: Frame): Strip[] {
  const style = block.tone === 'lead' ? styles.lead : block.tone === 'quiet' ? styles.quiet : styles.body;
  const before = block.tone === 'lead' ? 8 : 6;
  return paragraph(setting, piecesOf(block.inline, style), style, { ...textFrame(frame), tag: tagUnder(frame.tag, 'P') }, before);
}

/** A bordered block, quiet but not to be overlooked: title, when it applies, points, source. */
function cautionStrips(setting: Setting, block: BlockOf<'caution'>, frame: Frame): Strip[] {
  const inset = 12;
  const group = tagUnder(frame.tag, 'Div');
  const inner = (tag: Tag): Frame => ({ x: frame.x + inset + 4, width: frame.width - 2 * inset - 4, tag });
  const title = piecesOf([{ text: `${words.both.caution}: `, quiet: true }, block.title], styles.stepTitle);
  const points: BlockOf<'list'> = { type: 'list', ordered: false, items: block.points.map((point) => [{ type: 'paragraph', inline: [point] }]) };
  const source = piecesOf([`${words.both.source}: `, ...block.source], styles.quiet);
  const strips = [
    ...keptWithNext(paragraph(setting, title, styles.stepTitle, inner(tagUnder(group, 'P')), 0)),
    ...keptWithNext(paragraph(setting, piecesOf([{ text: block.when, emphasis: true }], styles.body), styles.body, inner(tagUnder(group, 'P')), 1)),
    ...listStrips(setting, points, inner(group)),
    ...paragraph(setting, source, styles.quiet, inner(tagUnder(group, 'P')), 6),
  ];
  return anchored(keptIfShort(bordered(strips, frame), setting.bodyHeight / 4), [block.id]);
}

/** A hairline box with a heavier left edge; open at the page's end when it goes over to the next. */
function bordered(strips: readonly Strip[], frame: Frame): Strip[] {
  const pad = 9;
  const last = strips.length - 1;
  const roomy = strips.map((strip, index) => ({ ...strip, ...padded(strip, index === 0 ? pad : 0, index === last ? pad : 0), before: index === 0 ? 14 : strip.before }));
  return lined(roomy, (height, index) => {
    const edge = (x: number): Item => ({ kind: 'box', x, y: 0, width: 0, height, stroke: colours.slate, strokeWidth: 0.5 });
    const edges: Item[] = [{ kind: 'box', x: frame.x, y: 0, width: 3, height, fill: colours.slate }, edge(frame.x + frame.width)];
    if (index === 0) edges.push(hairline(frame.x, 0, frame.width, colours.slate));
    if (index === last) edges.push(hairline(frame.x, height, frame.width, colours.slate));
    return edges;
  });
}

/** An opinion or something told, marked as such beside the words. */
function remarkStrips(setting: Setting, block: BlockOf<'remark'>, frame: Frame): Strip[] {
  const inner: Frame = { ...textFrame({ ...frame, width: frame.width - 12 }), x: frame.x + 12, tag: tagUnder(frame.tag, 'P') };
  const mark = block.origin === 'told' ? (block.by ? words.remark.toldBy(block.by) : words.remark.told) : block.origin === 'opinion' ? words.remark.opinion : words.pdf.fact;
  const pieces = piecesOf([{ text: `${mark}: `, strong: true, quiet: true }, ...block.inline], styles.body);
  return lined(paragraph(setting, pieces, styles.body, inner, 7), (height) => [sideLine(frame, height)]);
}

function sideLine(frame: Frame, height: number): Item {
  return { kind: 'box', x: frame.x + 1, y: 0, width: 0, height, stroke: colours.soft, strokeWidth: 1 };
}

function codeStrips(setting: Setting, block: BlockOf<'code'>, frame: Frame): Strip[] {
  const pad = 6;
  const inner: Frame = { x: frame.x + 8, width: frame.width - 16, tag: tagUnder(frame.tag, 'P') };
  const strips = paragraph(setting, piecesOf([block.text.replace(/\n$/, '')], styles.code), styles.code, inner, 9);
  const last = strips.length - 1;
  const roomy = strips.map((strip, index) => ({ ...strip, ...padded(strip, index === 0 ? pad : 0, index === last ? pad : 0) }));
  return lined(roomy, (height) => [{ kind: 'box', x: frame.x, y: 0, width: frame.width, height, fill: colours.faint }]);
}

function listStrips(setting: Setting, block: BlockOf<'list'>, outer: Frame): Strip[] {
  const frame = textFrame(outer);
  const list = tagUnder(frame.tag, 'L', { numbering: block.ordered ? 'Decimal' : 'Disc' });
  const room = block.ordered ? 18 : 12;
  return block.items.flatMap((blocks, index) => {
    const entry = tagUnder(list, 'LI');
    const label = slabsOf(setting, piecesOf([block.ordered ? `${index + 1}.` : '•'], styles.body), styles.body, { x: frame.x, width: room, tag: tagUnder(entry, 'Lbl') });
    const inner: Frame = { x: frame.x + room, width: frame.width - room, tag: tagUnder(entry, 'LBody') };
    const [first = stripOf({ height: styles.body.lineHeight, items: [] }), ...rest] = blocksStrips(setting, blocks, inner);
    const labelItems = (label[0]?.items ?? []).map((item) => moved(item, firstBaseline(first) - baselineOf(styles.body)));
    const entryStrips = [{ ...first, before: index === 0 ? 6 : 2.5, items: [...labelItems, ...first.items] }, ...rest];
    // Neither the first line of a list nor its last is alone on a page.
    return (index === 0 || index === block.items.length - 2) && entryStrips.length === 1 && block.items.length > 1 ? keptWithNext(entryStrips) : entryStrips;
  });
}

function firstBaseline(strip: Strip): number {
  return strip.items.find((item) => item.kind === 'text')?.y ?? baselineOf(styles.body);
}

function quoteStrips(setting: Setting, block: BlockOf<'quote'>, frame: Frame): Strip[] {
  const inner: Frame = { x: frame.x + 14, width: frame.width - 14, tag: tagUnder(frame.tag, 'BlockQuote') };
  return lined(blocksStrips(setting, block.blocks, inner), (height) => [sideLine(frame, height)]);
}
