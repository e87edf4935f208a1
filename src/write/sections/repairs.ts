import type { Block, BlockOf, Inline, Section } from '../../model/dossier.ts';
import type { Observation, ZoneInspection } from '../../model/inspection.ts';
import type { Remark } from '../../model/notes.ts';
import { canBeSamePlace } from '../../model/same-place.ts';
import { capital, conditionOf, conditionText, conditionsText, findingCounts, partText, termIn } from '../../model/wording.ts';
import { countText, listText } from '../../units.ts';
import { metaText, nameOfZone } from '../context.ts';
import type { Context } from '../context.ts';
import { aside, bullets, cell, facts, heading, joined, lead, link, paragraph, table } from '../inline.ts';
import { readingInShort } from '../plots.ts';
import { advises, originText, photoCell } from '../say.ts';
import { notSeenText, observedLook, observedWords, saidWords } from '../tables.ts';

/** Conditions of metal that are repairs, beside what was written as a sign of one. */
const repaired = ['patched', 'overlaid', 'filled', 'replaced'];
/** Words by which people speak of earlier repair; `done` as sellers use it. Our judgement. */
const spoken = /\b(?:repair\w*|weld\w*|patch\w*|plated|replac\w+|renew\w*|restor\w*|rebuil\w*|overhaul\w*|respray\w*|repaint\w*|filler|filled|leaded|overlaid|over-?sills?|cover (?:sill|panel)s?|new (?:sill|rocker|floor|wing|fender|arch|panel)s?|done)\b/i;

const nothing = 'No earlier repair was written down: that is not the same as none.';

/** Earlier repairs for a buyer: each with its place, state and words, how it was looked at and by whom, and what was measured there; then what was told beside what was seen. */
export function repairs(context: Context): Section {
  const found = signsOf(context);
  const section = { id: 'repairs', title: 'Earlier repairs', page: 'register', nav: 'Earlier repairs', breakBefore: false };
  const told = toldBlocks(context, found);
  if (found.length === 0) return { ...section, blocks: [paragraph(nothing), ...told] };
  return {
    ...section,
    blocks: [
      lead(inShort(context, found)),
      aside('A sign is a reason to look closer; what lies under it was not seen unless the line says so. Where no sign stands, none was written down: that is not the same as no repair.'),
      ...table('Signs of earlier repair', [['Where', 5], ['State', 4], ['As written', 5], ['How looked at; whose word', 4], ['Measured there', 4], ['Photos', 3]], found.map((one) => row(context, one))),
      ...asked(context, found),
      ...told,
      ...meanings(context, found),
    ],
  };
}

function signsOf(context: Context): Observation[] {
  return context.inspection.zones.flatMap((zone) => zone.observations).filter(isSign);
}

function isSign(one: Observation): boolean {
  return one.part.type === 'repair' || one.finding.conditions.some((id) => repaired.includes(id));
}

/** "3 signs of earlier repair were written down in 2 zones: 2 patched and 1 weld line. All stand …" */
function inShort(context: Context, found: readonly Observation[]): string {
  const { catalogue } = context.inspection.job;
  const words = found.map((one) => conditionsText(catalogue, one.finding.conditions.filter((id) => one.part.type === 'repair' || repaired.includes(id)), context.language) || 'in free words');
  const kinds = [...new Set(words)].map((word) => [word, words.filter((other) => other === word).length] as const).map(([word, count]) => `${count} ${word}`);
  const zones = new Set(found.map((one) => one.zone)).size;
  const [bearing, hearsay] = [found.filter((one) => one.structure).length, found.filter((one) => !findingCounts(catalogue, one.finding)).length];
  const some = (count: number, clause: string): string => (count === 0 ? '' : ` ${found.length === 1 ? 'It stands' : count === found.length ? 'All stand' : count === 1 ? 'One of them stands' : `${count} of them stand`} ${clause}.`);
  const said = `${capital(countText(found.length, 'sign', 'signs'))} of earlier repair ${found.length === 1 ? 'was' : 'were'} written down, in ${countText(zones, 'zone', 'zones')}: ${listText(kinds)}.`;
  return `${said}${some(bearing, 'in metal that carries load or within 30 cm of a safety mounting')}${some(hearsay, 'on the word of somebody, not on a look')}`;
}

function row(context: Context, one: Observation): BlockOf<'table'>['rows'][number] {
  const { finding } = one;
  const how = finding.origin.kind === 'told' && finding.looked.evidence === 'told' ? originText(finding.origin) : observedLook(context, one);
  const words = [how, ...(finding.origin.kind === 'fact' ? ['fact'] : [])];
  return { cells: [
    cell(link(nameOfZone(context, one.zone), one.zone), '; ', link(partText(one.part, finding.about.place, context.language), one.id)),
    { state: one.outcome, inline: [observedWords(context, one)].filter((text) => text !== '') },
    cell(saidWords(finding) || 'nothing more'),
    cell(words.join('; ')),
    cell(measuredAt(context, one).join('. ') || 'nothing'),
    cell(...photoCell(context, one.photos, finding.photos)),
  ] };
}

/** Film, steel and magnet where the sign is, as far as the places named can be one. */
function measuredAt(context: Context, one: Observation): string[] {
  const zone = context.zones.get(one.zone);
  if (!zone) return [];
  const { catalogue } = context.inspection.job;
  const isHere = (place: string): boolean => canBeSamePlace(zone.zone.record, one.finding.about.place, place);
  const read = zone.readings.filter(({ reading }) => isHere(reading.place)).map(({ reading, verdict }) => `${readingInShort(context, reading)}${verdict.usable ? '' : `; does not count (${verdict.reason})`}`);
  const held = zone.observations
    .filter((other) => other !== one && other.finding.looked.evidence === 'magnet' && isHere(other.finding.about.place))
    .map((other) => `magnet, ${partText(other.part, other.finding.about.place, context.language)}: ${conditionsText(catalogue, other.finding.conditions, context.language) || other.outcome}`);
  return [...read, ...held];
}

/** Where the first steps ask about them. */
function asked(context: Context, found: readonly Observation[]): Block[] {
  if (!advises(context)) return [];
  const links = context.plan.steps.flatMap((step, index): Inline[] => (found.some((one) => step.answers.includes(one.id)) ? [[link(`step ${index + 1}`, step.id), ` (${step.title})`]] : []));
  return links.length === 0 ? [] : [paragraph('Of the first steps, these are about them: ', ...joined(links, ', '), '.')];
}

/** What was said of repairs, each beside what was seen there. */
function toldBlocks(context: Context, found: readonly Observation[]): Block[] {
  const history = metaText(context.inspection.job.notes.car, 'history');
  const ofCar: Inline[] = history !== null && spoken.test(history) ? [['Of the car: ', `“${history.replace(/\.$/, '')}”. No single place is named.`]] : [];
  const lines = context.inspection.zones.flatMap((zone): Inline[] => [
    ...zone.observations.flatMap((one) => toldFinding(context, zone, one)),
    ...zone.remarks.filter(({ entry }) => spoken.test(entry.words || entry.text)).map(({ entry }) => toldRemark(context, zone, entry, found)),
  ]);
  const all = [...ofCar, ...lines];
  return all.length === 0 ? [] : [heading('What was said of repairs, beside what was seen'), ...bullets(all)];
}

function toldRemark(context: Context, zone: ZoneInspection, entry: Remark, found: readonly Observation[]): Inline {
  const said = (entry.words || entry.text).replace(/\.$/, '').replace(/^["“](.*)["”]$/, '$1');
  const seen = found.filter((one) => one.zone === zone.zone.id && findingCounts(context.inspection.job.catalogue, one.finding));
  const unseen = notSeenText(context, zone).map(({ what }) => what);
  return [
    link(nameOfZone(context, zone.zone.id), zone.zone.id), '; ', { text: originText(entry.origin) || 'fact', strong: true }, `: “${said}”. Seen there: `,
    ...(seen.length === 0 ? ['no sign of repair was written down'] : joined(seen.map((one) => signLink(context, one)), ', ')),
    unseen.length === 0 ? '.' : `. Not seen there: ${listText(unseen)}.`,
  ];
}

/** A line of hearsay or opinion on metal, where it speaks of repair or what was seen at its place does. */
function toldFinding(context: Context, zone: ZoneInspection, one: Observation): Inline[] {
  const { catalogue } = context.inspection.job;
  const { finding } = one;
  if (findingCounts(catalogue, finding) || !isOfSheet(one) || finding.conditions.length === 0) return [];
  const beside = zone.observations.filter((other) => isOfSheet(other) && findingCounts(catalogue, other.finding) && other.finding.conditions.length > 0 && canBeSamePlace(zone.zone.record, finding.about.place, other.finding.about.place));
  const signs = beside.filter(isSign);
  if (!isSign(one) && signs.length === 0) return [];
  const disagree = isSign(one) ? signs.length === 0 && beside.some((other) => other.outcome === 'sound') : one.outcome === 'sound' || finding.conditions.includes('sound');
  const shown = signs.length > 0 ? signs : beside;
  return [[
    link(nameOfZone(context, zone.zone.id), zone.zone.id), '; ', { text: originText(finding.origin) || observedLook(context, one), strong: true }, ': ', signLink(context, one)[0] as Inline[number], `. Seen at that place: `,
    ...(shown.length === 0 ? ['nothing that speaks for or against it'] : joined(shown.map((other) => signLink(context, other)), ', ')),
    disagree ? '. The two do not agree.' : '.',
  ]];
}

function isOfSheet(one: Observation): boolean {
  return one.part.type === 'metal' || one.part.type === 'repair';
}

function signLink(context: Context, one: Observation): Inline {
  const conditions = conditionsText(context.inspection.job.catalogue, one.finding.conditions, context.language) || one.outcome;
  return [link(`${partText(one.part, one.finding.about.place, context.language)}: ${conditions}`, one.id)];
}

/** What the words of the signs mean, for a reader who is no mechanic. */
function meanings(context: Context, found: readonly Observation[]): Block[] {
  const { catalogue } = context.inspection.job;
  const ids = [...new Set(found.flatMap((one) => one.finding.conditions.filter((id) => one.part.type === 'repair' || repaired.includes(id))))];
  const known = ids.flatMap((id) => conditionOf(catalogue, id) ?? []);
  const part = catalogue.parts.find(({ id }) => id === 'repair');
  const sign = part && found.some((one) => one.part.id === part.id) ? [{ term: capital(termIn(part.name, context.language)), value: [part.meaning] }] : [];
  const list = facts([...sign, ...known.map((condition) => ({ term: capital(conditionText(catalogue, condition.id, context.language)), value: [condition.meaning] }))]);
  return list.length === 0 ? [] : [heading('What these words mean'), ...list];
}
