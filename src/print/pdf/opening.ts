import type { Block, BlockOf, Dossier, Section } from '../../model/dossier.ts';
import { words } from '../../model/printed-words.ts';
import type { ZoneMap } from '../../model/zone-map.ts';
import { sectionStrips } from './blocks.ts';
import { stripOf, tagUnder } from './items.ts';
import type { Strip } from './items.ts';
import { styles } from './look.ts';
import type { TextStyle } from './look.ts';
import { smallMapStrip } from './map.ts';
import { abreast, heightOf, kept, padded, pageNumberPiece, paragraph, piecesOf, slabsOf, startingPage } from './strips.ts';
import type { Frame, Setting } from './strips.ts';

type Step = BlockOf<'steps'>['items'][number];

const numberRoom = 20;
const pageRoom = 30;
/** Below this many there is no list of first steps. */
const fewestSteps = 2;

/**
 * The page after the cover: the summary, and below it as much as there is room for of the body map, small, and the first
 * steps, a line each; both stand in full further on. Empty where a dossier does not begin with a summary.
 */
export function openingStrips(setting: Setting, dossier: Dossier, frame: Frame): Strip[] {
  const [section] = dossier.sections;
  if (section?.id !== 'summary') return [];
  const tag = tagUnder(frame.tag, 'Sect');
  const summary = startingPage(sectionStrips(setting, section, frame, tag));
  const inner = { ...frame, tag };
  const [mapSection, map] = firstOf(dossier.sections, (block) => (block.type === 'zones' ? block.map : undefined));
  const [stepsSection, steps = []] = firstOf(dossier.sections, (block) => (block.type === 'steps' ? block.items : undefined));
  const seen = seenStrips(setting, dossier, section, inner);
  let room = setting.bodyHeight - heightOf(summary) - heightOf(seen);
  if (room < 0) return summary;
  const list = fewest(steps).map((count) => stepStrips(setting, stepsSection, steps.slice(0, count), steps.length, inner)).find((strips) => heightOf(strips) <= room) ?? [];
  room -= heightOf(list);
  const drawn = map && mapSection ? mapStrips(setting, map, mapSection, inner) : [];
  return [...summary, ...(heightOf(drawn) <= room ? drawn : []), ...list, ...seen];
}

/** All, then ever fewer, down to the fewest that make a list. */
function fewest(steps: readonly Step[]): number[] {
  return steps.map((_, index) => steps.length - index).filter((count) => count >= Math.min(fewestSteps, steps.length));
}

function firstOf<T>(sections: readonly Section[], find: (block: Block) => T | undefined): [Section | undefined, T | undefined] {
  for (const section of sections) {
    for (const block of section.blocks) {
      const found = find(block);
      if (found !== undefined) return [section, found];
    }
  }
  return [undefined, undefined];
}

/** A small title that leads to the section the thing stands in, with its page. */
function titleStrips(setting: Setting, section: Section, frame: Frame): Strip[] {
  const link = { href: `#${section.id}`, words: section.title };
  const style = styles.smallStrong;
  const title = piecesOf([`${section.title} · ${words.pdf.onPage} `], style).map((piece) => ({ ...piece, link }));
  return paragraph(setting, [...title, { ...pageNumberPiece(section.id, style, link), inText: true }], style, { ...frame, tag: tagUnder(frame.tag, 'P') }, 12);
}

function mapStrips(setting: Setting, map: ZoneMap, section: Section, frame: Frame): Strip[] {
  return kept([...titleStrips(setting, section, frame), smallMapStrip(setting, map, section.title, frame)]);
}

/** Number, title and page of each step; how many more there are where some had no room. */
function stepStrips(setting: Setting, section: Section | undefined, steps: readonly Step[], all: number, frame: Frame): Strip[] {
  if (!section || steps.length === 0) return [];
  const list = tagUnder(frame.tag, 'L', { numbering: 'Decimal' });
  const style: TextStyle = styles.small;
  const lines = steps.map((step, index) => {
    const entry = tagUnder(list, 'LI');
    const body = tagUnder(entry, 'LBody');
    const link = { href: `#${step.id}`, words: step.title.map((span) => (typeof span === 'string' ? span : span.text)).join('') };
    const label = slabsOf(setting, piecesOf([`${index + 1}.`], style), style, { x: frame.x, width: numberRoom, tag: tagUnder(entry, 'Lbl') });
    const title = slabsOf(setting, piecesOf(step.title, style), style, { x: frame.x + numberRoom, width: frame.width - numberRoom - pageRoom, tag: body });
    const page = slabsOf(setting, [pageNumberPiece(step.id, style, link)], style, { x: frame.x + frame.width - pageRoom, width: pageRoom, tag: body }, 'right');
    const [slab = { height: 0, items: [] }] = abreast([label, title, page], setting.bodyHeight);
    return stripOf(padded(slab, 1, 1), { before: index === 0 ? 2 : 0 });
  });
  const more = all > steps.length ? paragraph(setting, piecesOf([`${words.pdf.moreSteps} ${all - steps.length}`], styles.quiet), styles.quiet, { ...frame, tag: tagUnder(frame.tag, 'P') }, 2) : [];
  return kept([...titleStrips(setting, section, frame), ...lines, ...more]);
}

/** How much was seen, where the summary does not say it in these words. */
function seenStrips(setting: Setting, dossier: Dossier, section: Section, frame: Frame): Strip[] {
  if (JSON.stringify(section.blocks).includes(JSON.stringify(dossier.coverage.words).slice(1, -1))) return [];
  return paragraph(setting, piecesOf([{ text: `${words.pdf.coverage}: `, strong: true }, dossier.coverage.words], styles.small), styles.small, { ...frame, tag: tagUnder(frame.tag, 'P') }, 10);
}
