import type { Catalogue, Condition, Part, Term, Zone } from './catalogue.ts';
import type { RegisterRow, ZoneInspection } from './inspection.ts';
import type { Finding } from './notes.ts';

export const languages = ['en-GB', 'en-US'] as const;
export type Language = (typeof languages)[number];

/** How the anchors begin of the lines that say what a section's chances rest on: they lead to lines and say nothing of their own. */
export const inputsMark = 'rests--';

/** The trade term in the dossier's language. */
export function termIn(term: Term, language: Language): string {
  return language === 'en-US' ? term.us : term.gb;
}

/** What the catalogue's sentences call things in British terms, and American ones. */
const american: Readonly<Record<string, string>> = {
  'rear wing': 'quarter panel', 'rear wings': 'quarter panels', wing: 'fender', wings: 'fenders', sill: 'rocker', sills: 'rockers', boot: 'trunk', bonnet: 'hood', hood: 'soft top',
  windscreen: 'windshield', scuttle: 'cowl', bulkhead: 'firewall', lamp: 'light', lamps: 'lights', headlamp: 'headlight', headlamps: 'headlights', gutter: 'drip rail', gutters: 'drip rails',
  'a-post': 'A-pillar', 'b-post': 'B-pillar', 'c-post': 'C-pillar', 'a-posts': 'A-pillars', 'b-posts': 'B-pillars', 'c-posts': 'C-pillars', petrol: 'gasoline', saloon: 'sedan', estate: 'station wagon',
  tailgate: 'liftgate', perished: 'deteriorated', tyre: 'tire', tyres: 'tires', millimetres: 'millimeters', grey: 'gray', mould: 'mold', aerial: 'antenna', 'number-plate': 'license-plate', damper: 'shock absorber', dampers: 'shock absorbers',
};
const british = new RegExp(`\\b(${Object.keys(american).sort((a, b) => b.length - a.length).join('|')})\\b`, 'gi');

/** A sentence or place of the catalogue, which is written in British terms, in the dossier's language. */
export function wordsIn(text: string, language: Language): string {
  if (language !== 'en-US') return text;
  return text.replace(british, (word) => {
    const other = american[word.toLowerCase()] ?? word;
    return /^[A-Z][a-z]/.test(word) ? other.charAt(0).toUpperCase() + other.slice(1) : other;
  });
}

/** Spellings our own sentences are written in, and American ones. Trade terms stand above; what is typed is never respelled. */
const spellings: Readonly<Record<string, string>> = {
  judgement: 'judgment', judgements: 'judgments', litre: 'liter', litres: 'liters', metre: 'meter', metres: 'meters', millimetre: 'millimeter', millimetres: 'millimeters', micrometre: 'micrometer', micrometres: 'micrometers',
  colour: 'color', colours: 'colors', coloured: 'colored', grey: 'gray', greys: 'grays', centre: 'center', centres: 'centers', galvanised: 'galvanized', galvanising: 'galvanizing', labour: 'labor', vapour: 'vapor', vapours: 'vapors',
  neighbour: 'neighbor', neighbours: 'neighbors', neighbouring: 'neighboring', ageing: 'aging', mould: 'mold', moulded: 'molded', fibre: 'fiber', fibres: 'fibers', aluminium: 'aluminum', sulphur: 'sulfur', licence: 'license', licences: 'licenses',
  recognised: 'recognized', unrecognised: 'unrecognized', neutralise: 'neutralize', neutralised: 'neutralized', organised: 'organized', analysed: 'analyzed', catalogue: 'catalog', draught: 'draft', burnt: 'burned', kerb: 'curb', tyre: 'tire', tyres: 'tires',
};

/** Every word of that table, whole. */
export const britishSpelling = new RegExp(`(?<![\\p{L}\\p{N}_])(?:${Object.keys(spellings).join('|')})(?![\\p{L}\\p{N}_])`, 'giu');

/** One word of that table as it is spelled in American English, its first letter large where it was. */
export function americanSpelling(word: string): string {
  const other = spellings[word.toLowerCase()] ?? word;
  return /^\p{Lu}/u.test(word) ? capital(other) : other;
}

/** Words of the trade in both kinds of English, British first. */
export function wordPairs(): [british: string, american: string][] {
  return Object.entries(american);
}

/** The catalogue with its sentences in the dossier's language; names, ids, places and spellings stay, because things are known by them. */
export function catalogueIn(catalogue: Catalogue, language: Language): Catalogue {
  if (language !== 'en-US') return catalogue;
  const say = (text: string): string => wordsIn(text, language);
  return {
    ...catalogue,
    zones: catalogue.zones.map((zone) => ({ ...zone, waterIn: say(zone.waterIn), waterOut: say(zone.waterOut), lookAt: zone.lookAt.map(say), cavities: zone.cavities.map((cavity) => ({ ...cavity, name: say(cavity.name), walls: [...cavity.walls, ...cavity.walls.map(say)] })) })),
    conditions: catalogue.conditions.map((condition) => ({ ...condition, meaning: say(condition.meaning), remedy: say(condition.remedy) })),
    cautions: catalogue.cautions.map((caution) => ({ ...caution, when: say(caution.when), points: caution.points.map(say) })),
    bodies: catalogue.bodies.map((body) => ({ ...body, notes: body.notes.map(say) })),
    reasons: catalogue.reasons.map((reason) => ({ ...reason, toSee: say(reason.toSee) })),
    works: catalogue.works.map((kind) => ({ ...kind, why: say(kind.why), reasons: kind.reasons.map((reason) => ({ ...reason, why: say(reason.why) })) })),
  };
}

/** A term inside a sentence: lower case at the front, save for "A-post" and abbreviations. */
export function inSentence(name: string): string {
  return /^[A-Z]([A-Z\d-]|$)/.test(name) ? name : name.charAt(0).toLowerCase() + name.slice(1);
}

/** A text with its first letter large, as at the beginning of a sentence. */
export function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

/** A place as it is compared: lower case, single spaces. */
export function placeForm(place: string): string {
  return place.normalize('NFC').toLowerCase().replace(/\s+/g, ' ').trim();
}

/** "Sill, left" or "Rocker, left". */
export function zoneName(zone: Zone, language: Language): string {
  return language === 'en-US' ? zone.nameUs : zone.name;
}

/** "the left sill", "the boot floor": a zone inside a sentence. */
export function zonePhrase(zone: Zone, language: Language): string {
  const name = inSentence(termIn(zone.record.name, language));
  return zone.side ? `the ${zone.side} ${name}` : `the ${name}`;
}

/** "blind plug, inner face 2", "metal inside": a part with its place, for inside a sentence. */
export function partText(part: Part, place: string, language: Language): string {
  const name = inSentence(termIn(part.name, language));
  return place ? `${name}, ${place}` : name;
}

/** Names of conditions, lower case, joined by commas; an id the catalogue does not know stands as it is. */
export function conditionsText(catalogue: Catalogue, ids: readonly string[], language: Language): string {
  return ids.map((id) => conditionText(catalogue, id, language)).join(', ');
}

/** Name of one condition inside a sentence. */
export function conditionText(catalogue: Catalogue, id: string, language: Language): string {
  const condition = conditionOf(catalogue, id);
  return condition ? inSentence(termIn(condition.name, language)) : id;
}

/** The record of a condition id, undefined where the catalogue has none. */
export function conditionOf(catalogue: Catalogue, id: string): Condition | undefined {
  return catalogue.conditions.find((condition) => condition.id === id);
}

/** Of several conditions the worst, undefined where none is known. */
export function worstCondition(catalogue: Catalogue, ids: readonly string[]): Condition | undefined {
  return ids
    .map((id) => conditionOf(catalogue, id))
    .filter((condition) => condition !== undefined)
    .sort((a, b) => b.badness - a.badness)[0];
}

/** Badness of the worst of several conditions, 0 where none is known. */
export function badnessOf(catalogue: Catalogue, ids: readonly string[]): number {
  return worstCondition(catalogue, ids)?.badness ?? 0;
}

/** Each condition once, worst first; as written where equally bad. */
export function worstFirst(catalogue: Catalogue, conditions: readonly string[]): string[] {
  return [...new Set(conditions)].sort((a, b) => badnessOf(catalogue, [b]) - badnessOf(catalogue, [a]));
}

/** "told by the seller"; somebody where nobody is named. */
export function toldBy(by: string): string {
  return by === '' || by === 'not named' ? 'told by somebody not named' : `told by ${by}`;
}

/** Whether a finding was looked at by a grade that counts and is not hearsay or opinion. */
export function findingCounts(catalogue: Catalogue, finding: Finding): boolean {
  const grade = catalogue.evidence.find((evidence) => evidence.id === finding.looked.evidence);
  return finding.origin.kind === 'fact' && (grade?.counts ?? false);
}

/** Whether an opening stands in metal that carries load, or within 30 cm of a safety mounting. */
export function rowIsStructure(zone: ZoneInspection, row: RegisterRow): boolean {
  const cavity = zone.zone.record.cavities.find((one) => one.id === row.cavity);
  return (row.mounting?.near ?? false) || zoneHasNearMounting(zone) || (cavity?.carriesLoad ?? false);
}

/** Whether the zone itself carries structure or was measured to be near a safety mounting. */
export function zoneIsStructure(zone: ZoneInspection): boolean {
  return zone.zone.record.carries === 'structure' || zoneHasNearMounting(zone);
}

function zoneHasNearMounting(zone: ZoneInspection): boolean {
  return zone.mountings.some((mounting) => mounting.distanceMm <= 300);
}
