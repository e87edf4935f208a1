import type { Dossier } from '../../model/dossier.ts';
import { byCodeUnit } from '../../model/order.ts';
import { words } from '../../model/printed-words.ts';
import { countText, dateText, listText } from '../../units.ts';
import type { Attachment } from './attachments.ts';
import { stripOf, tagUnder } from './items.ts';
import type { Item, Slab, Strip } from './items.ts';
import { colours, styles } from './look.ts';
import type { TextStyle } from './look.ts';
import { statusInWords } from './status.ts';
import { abreast, balanced, hairline, heightOf, keptWithNext, padded, pageNumberPiece, paragraph, piecesOf, slabsOf } from './strips.ts';
import type { Frame, Setting } from './strips.ts';

const termRoom = 130;
/** Letters a title may have before it is set smaller. */
const longTitle = 60;

/** What the cover tells of a file that travels inside. */
export type Inside = Pick<Attachment, 'name' | 'description'>;

/** The cover: what it is, of what state, how much was seen, the files inside, the hash to be lodged elsewhere, a line to sign on. */
export function coverStrips(setting: Setting, dossier: Dossier, inside: readonly Inside[], frame: Frame): Strip[] {
  const airy = setCover(setting, dossier, inside, 1, frame);
  return heightOf(airy) <= setting.bodyHeight ? airy : setCover(setting, dossier, inside, 0.2, frame);
}

/** `air` is the share of the room above title and state that a cover has which is not full. */
function setCover(setting: Setting, dossier: Dossier, inside: readonly Inside[], air: number, frame: Frame): Strip[] {
  const tag = tagUnder(frame.tag, 'Sect');
  const below = (role: 'H1' | 'P'): Frame => ({ ...frame, tag: tagUnder(tag, role) });
  const set = (text: string, style: TextStyle, role: 'H1' | 'P', before: number): Strip[] => paragraph(setting, piecesOf([text], style), style, below(role), before);
  const draft = dossier.status.kind === 'draft';
  const title = dossier.title.length > longTitle ? styles.longTitle : styles.title;
  return [
    // An empty strip of some height sets the title a quarter down the page.
    stripOf({ height: 64 * air, items: [hairline(frame.x, 0, frame.width, colours.ink, 1.2), hairline(frame.x, 3, frame.width, colours.ink, 0.4)] }),
    ...set(dossier.edition.title, styles.subtitle, 'P', 0),
    ...balanced(setting, piecesOf([dossier.title], title), title, below('H1'), 4),
    ...set(dossier.subtitle, styles.subtitle, 'P', 6),
    ...set(statusInWords(dossier.status), styles.status, 'P', 40 * air),
    ...(draft ? set(words.pdf.draftMeaning, styles.quiet, 'P', 1) : []),
    ...particulars(setting, dossier, inside, { ...frame, tag }),
    ...listHash(setting, dossier, { ...frame, tag }),
    // Should the cover run over, the line to sign on is not alone on the next page.
    ...keptWithNext(set(`${words.pdf.limits}: ${dossier.limits}`, styles.quiet, 'P', 22)),
    signature(setting, dossier, { ...frame, tag }),
  ];
}

/** Who, when, for whom, how much was seen: terms and values. */
function particulars(setting: Setting, dossier: Dossier, inside: readonly Inside[], frame: Frame): Strip[] {
  const { author, seenOn, edition, coverage, originals } = dossier;
  const rows: [string, string][] = [
    [words.pdf.author, author],
    [words.pdf.seenOn, seenOn === null ? '' : dateText(seenOn)],
    [words.pdf.reader, edition.reader],
    [words.pdf.coverage, coverage.words],
    [words.pdf.originals.title, originalsText(originals.count, dossier.photos.length)],
    [words.pdf.inside, insideText(inside)],
  ];
  const list = tagUnder(frame.tag, 'L', { numbering: 'None' });
  const strips = rows.filter(([, value]) => value !== '').flatMap(([term, value]) => {
    const entry = tagUnder(list, 'LI');
    const left = slabsOf(setting, piecesOf([term], styles.quiet), { ...styles.quiet, lineHeight: styles.body.lineHeight }, { x: frame.x, width: termRoom - 12, tag: tagUnder(entry, 'Lbl') });
    const right = slabsOf(setting, piecesOf([value], styles.body), styles.body, { x: frame.x + termRoom, width: frame.width - termRoom, tag: tagUnder(entry, 'LBody') });
    return abreast([left, right], setting.bodyHeight).map((slab) => ruled(padded(slab, 4, 4), frame));
  });
  return strips.map((slab, index) => stripOf(slab, { before: index === 0 ? 26 : 0 }));
}

/** Findings of three visits and the settings; what is more than that are photos. */
const mostTexts = 4;

/** "19 (18 photos and the findings)": the list holds the photos and the texts the dossier was made from. */
function originalsText(count: number, photos: number): string {
  const { photo, photos: some, findings, findingsAnd, text, texts: others } = words.pdf.originals;
  const texts = count - photos;
  // A dossier of one visit lists the photos of others too, which it does not show: then the number says enough.
  if (texts > mostTexts) return String(count);
  const parts = [countText(photos, photo, some), ...(texts < 1 ? [] : texts === 1 ? [findings] : [findingsAnd(countText(texts - 1, text, others))])];
  return `${count} (${listText(parts)})`;
}

/** A line for each file, in the order a reader lists them, and how they are got at. */
function insideText(inside: readonly Inside[]): string {
  if (inside.length === 0) return '';
  const files = inside.toSorted((a, b) => byCodeUnit(a.name, b.name)).map(({ name, description }) => `${name}: ${description}`);
  return [...files, words.pdf.insideHow].join('\n');
}

function ruled(slab: Slab, frame: Frame): Slab {
  return { ...slab, items: [hairline(frame.x, 0, frame.width), ...slab.items] };
}

/** The hash in groups of eight at fixed steps, so that two people can compare it by eye and by voice. */
function listHash(setting: Setting, dossier: Dossier, frame: Frame): Strip[] {
  const groups = dossier.originals.listSha256.match(/.{1,8}/g) ?? [];
  if (groups.length === 0) return [];
  const term = paragraph(setting, piecesOf([words.pdf.listHash], styles.quiet), styles.quiet, { ...frame, tag: tagUnder(frame.tag, 'P') }, 22);
  const value = tagUnder(frame.tag, 'P');
  const step = frame.width / 4;
  const style: TextStyle = { ...styles.status, face: 'regular', lineHeight: 19 };
  const lines: Strip[] = [];
  for (let start = 0; start < groups.length; start += 4) {
    const items: Item[] = groups.slice(start, start + 4).flatMap((group, index) => {
      const slabs = slabsOf(setting, piecesOf([`${group} `], style), style, { x: frame.x + index * step, width: step, tag: value });
      return slabs.flatMap((slab) => slab.items);
    });
    lines.push(stripOf({ height: style.lineHeight, items }, { before: start === 0 ? 2 : 0, keep: true }));
  }
  const meaning = paragraph(setting, piecesOf([words.pdf.listHashMeaning], styles.quiet), styles.quiet, { ...frame, tag: tagUnder(frame.tag, 'P') }, 3);
  return [...term.map((strip) => ({ ...strip, keep: true })), ...lines, ...meaning];
}

/** Lines to sign on, at the foot of the cover. */
function signature(setting: Setting, dossier: Dossier, frame: Frame): Strip {
  const gutter = 24;
  const width = (frame.width - gutter) / 2;
  const name = dossier.author ? `${words.both.signature}, ${dossier.author}` : words.both.signature;
  const columns = [name, words.both.signedOn].map((text, index) => {
    const x = frame.x + index * (width + gutter);
    return slabsOf(setting, piecesOf([text], styles.quiet), styles.quiet, { x, width, tag: tagUnder(frame.tag, 'P') });
  });
  const slab = padded(abreast(columns, setting.bodyHeight)[0] ?? { height: 0, items: [] }, 44, 0);
  for (const x of [frame.x, frame.x + width + gutter]) slab.items.push(hairline(x, 40, width, colours.ink, 0.6));
  return stripOf(slab, { before: 10, sinks: true });
}

/** Room above and below an entry of the contents: the most with which they go onto one page. */
const airs = [3, 2.2, 1.5, 0.8, 0.2] as const;

/** The table of contents: section titles with their pages, each a link. */
export function contentsStrips(setting: Setting, dossier: Dossier, frame: Frame): Strip[] {
  const tag = tagUnder(frame.tag, 'Sect');
  const title = tagUnder(tag, 'H1');
  const heading = paragraph(setting, piecesOf([words.both.contents], styles.heading1), styles.heading1, { ...frame, tag: title }, 0);
  const [first] = heading;
  if (first) {
    first.startsPage = 'always';
    first.headings = [{ level: 1, text: words.both.contents, tag: title }];
  }
  const list = tagUnder(tag, 'TOC');
  const rows = dossier.sections.flatMap((section) => {
    const reference = tagUnder(tagUnder(list, 'TOCI'), 'Reference');
    const link = { href: `#${section.id}`, words: section.title };
    const text = piecesOf([section.title], styles.body).map((piece) => ({ ...piece, link }));
    const lines = slabsOf(setting, text, styles.body, { x: frame.x, width: frame.width - 40, tag: reference });
    const number = slabsOf(setting, [pageNumberPiece(section.id, styles.body, link)], styles.body, { x: frame.x + frame.width - 40, width: 40, tag: reference }, 'right');
    // The number stands on the last line of a long title.
    const blank: Slab[] = lines.slice(1).map((line) => ({ height: line.height, items: [] }));
    return abreast([lines, [...blank, ...number]], setting.bodyHeight);
  });
  const above = 12;
  const height = [...heading, ...rows].reduce((sum, slab) => sum + slab.height, above);
  const air = airs.find((each) => height + rows.length * 2 * each <= setting.bodyHeight) ?? 0.2;
  const entries = rows.map((slab, index) => {
    const room = padded(slab, air, air);
    room.items.push(hairline(frame.x, room.height, frame.width));
    return stripOf(room, { before: index === 0 ? above : 0 });
  });
  return [...heading.map((strip) => ({ ...strip, keep: true })), ...entries];
}
