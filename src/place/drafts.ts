import type { CavityRecord, ExpectedOpening, Exposure, Part, Zone } from '../model/catalogue.ts';
import { exposures } from '../model/catalogue.ts';
import type { RegisterRow } from '../model/inspection.ts';
import type { Finding, PhotoName } from '../model/notes.ts';
import { plainWords } from '../model/zone-names.ts';
import { isWithin } from './spelling.ts';
import type { Terms } from './verdict.ts';
import { mergeFindings } from './verdict.ts';

/** A row of the register while it is being made. */
export interface Draft {
  row: RegisterRow;
  /** Exposure was said on the finding and is not reckoned. */
  exposureSaid: boolean;
  /** The kinds of the zone record that the row answers. */
  kinds: ExpectedOpening[];
}

/** What all rows of a zone are made with. */
export interface RegisterTools extends Terms {
  zone: Zone;
  photoIdsOf: (names: readonly PhotoName[]) => string[];
}

/** How little of a row has to be given; the rest says that nothing was written. */
type Given = Pick<RegisterRow, 'part' | 'place' | 'known'> & Partial<RegisterRow>;

/** A row of which nothing is known but what is given. */
export function draftOf(tools: RegisterTools, given: Given, kinds: ExpectedOpening[]): Draft {
  return {
    exposureSaid: given.exposure !== undefined,
    kinds,
    row: {
      id: '',
      zone: tools.zone.id,
      size: null,
      outcome: 'not seen',
      conditions: [],
      details: [],
      exposure: worstExposure(kinds.length > 0 ? kinds : tools.zone.record.openings),
      cavity: cavityOf(tools.zone, kinds),
      looked: null,
      origin: 'fact',
      seen: false,
      reason: 'nothing written',
      toSee: '',
      lookHours: null,
      mounting: null,
      findings: [],
      photos: [],
      partner: null,
      spot: null,
      ...given,
    },
  };
}

/** The row of all findings about one opening. */
export function namedDraft(tools: RegisterTools, part: Part, place: string, findings: Finding[]): Draft {
  const merged = mergeFindings(tools, findings);
  const said = findings.flatMap(({ about }) => (about.exposure === null ? [] : [about.exposure]));
  return draftAt(tools, {
    part,
    place,
    known: 'named',
    size: findings.find(({ about }) => about.size !== null)?.about.size ?? null,
    outcome: merged.outcome,
    conditions: merged.conditions,
    details: [...new Set(findings.flatMap((finding) => finding.details))],
    looked: merged.decisive?.looked ?? null,
    origin: merged.decisive?.origin.kind ?? 'fact',
    seen: merged.seen,
    reason: merged.reason,
    findings,
    photos: tools.photoIdsOf(findings.flatMap((finding) => finding.photos)),
    spot: findings[0]?.spot ?? null,
    ...(said.length > 0 ? { exposure: worseOf(said) } : {}),
  });
}

/** A row of a part in a place, with the kind of the zone record it is one of. */
export function draftAt(tools: RegisterTools, given: Given): Draft {
  const kind = kindOf(tools.zone, given.part.id, given.place);
  if (kind) return draftOf(tools, given, [kind]);
  // In a place that fits none of several kinds it answers none of them, and the worst of them is reckoned.
  const alike = tools.zone.record.openings.filter((opening) => opening.part === given.part.id);
  return { ...draftOf(tools, given, alike), kinds: [] };
}

/**
 * The kind of the zone record that a named opening is one of: the only one of its part; else that of its place, or the
 * one whose place is among its words ("spare-wheel well" of "well"), or the one without a place. Null where several could
 * be meant, or none is expected.
 */
function kindOf(zone: Zone, part: string, place: string): ExpectedOpening | null {
  const kinds = zone.record.openings.filter((opening) => opening.part === part);
  if (kinds.length === 1) return kinds[0] ?? null;
  const longest = kinds.filter((kind) => isWithin(place, kind.place)).sort((a, b) => b.place.length - a.place.length)[0];
  if (longest && longest.place !== '') return longest;
  const worded = kinds.filter((kind) => kind.place !== '' && ` ${plainWords(place)} `.includes(` ${plainWords(kind.place)} `));
  return (worded.length === 1 ? worded[0] : longest) ?? null;
}

/** The kinds a count of a part speaks of: all of the part, or those of the place. */
export function kindsCounted(zone: Zone, part: string, place: string): ExpectedOpening[] {
  const kinds = zone.record.openings.filter((opening) => opening.part === part);
  const within = kinds.filter((kind) => isWithin(kind.place, place) || (kind.place !== '' && isWithin(place, kind.place)));
  return within.length > 0 || kinds.length > 1 ? within : kinds;
}

function worstExposure(kinds: readonly ExpectedOpening[]): Exposure {
  return worseOf(kinds.map((kind) => kind.exposure));
}

function worseOf(said: readonly Exposure[]): Exposure {
  return exposures.find((exposure) => said.includes(exposure)) ?? 'wheel spray';
}

/** Cavity of the worst exposed kind, else the zone's first. */
function cavityOf(zone: Zone, kinds: readonly ExpectedOpening[]): string {
  const worst = worstExposure(kinds);
  const kind = kinds.find((one) => one.exposure === worst);
  const first: CavityRecord | undefined = zone.record.cavities[0];
  return kind?.cavity ?? first?.id ?? '';
}

/**
 * Raises the exposure of plugs on an inner face whose cavity has another opening to the wheel: what the wheel throws
 * into the section reaches the plug from behind. What was said on a finding stands.
 */
export function spreadWheelSpray(drafts: readonly Draft[]): void {
  const toWheel = drafts.filter(({ row }) => row.exposure === 'wheel spray' && row.outcome !== 'not fitted');
  for (const draft of drafts) {
    const { row } = draft;
    if (draft.exposureSaid || !isPlug(row.part) || !/\binner face\b/.test(row.place)) continue;
    if (toWheel.some((other) => other !== draft && other.row.cavity === row.cavity)) row.exposure = 'wheel spray';
  }
}

function isPlug(part: Part): boolean {
  return [part.id, part.name.gb.toLowerCase(), part.name.us.toLowerCase(), ...part.also].some((name) => /^(blind )?plug$/.test(name));
}
