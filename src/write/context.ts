import type { Comparison } from '../model/comparison.ts';
import type { IssueChanges } from '../model/changes.ts';
import type { Section } from '../model/dossier.ts';
import type { Rendition } from '../model/dossier.ts';
import type { Edition, SectionId } from '../model/edition.ts';
import type { Inspection, Observation, Outlook, PlacedPhoto, Plan, RegisterRow, ZoneInspection } from '../model/inspection.ts';
import type { Issue } from '../model/job.ts';
import type { Meta } from '../model/notes.ts';
import type { Notice } from '../model/notice.ts';
import type { Visit } from '../model/visits.ts';
import type { Language } from '../model/wording.ts';
import { zoneName } from '../model/wording.ts';

/** The list of original files, as it is kept beside them. */
export interface Originals {
  /** SHA-256 of `originals-sha256.txt`, lower-case hex. */
  listSha256: string;
  count: number;
  /** In the order of the list. `sha256` empty where the file could not be read. */
  files: { path: string; bytes: number; sha256: string }[];
}

export interface WriteInput {
  inspection: Inspection;
  outlook: Outlook;
  plan: Plan;
  /** Visits before the one the dossier is about, oldest first; left out where there is none. */
  earlier?: Visit[];
  /** All visits beside each other; null or left out where there is one. */
  comparison?: Comparison | null;
  /** Photo id → delivered pictures, ascending by width, and why there are none. */
  pictures: Map<string, { renditions: Rendition[]; flaw: string }>;
  edition: Edition;
  issue: Issue;
  /** Against the issue before; null in a draft and in a first issue. */
  changes: IssueChanges | null;
  originals: Originals;
  /** Of this program. */
  version: string;
}

/** What every section function gets: the input with the look-ups all of them need. */
export interface Context extends WriteInput {
  earlier: Visit[];
  comparison: Comparison | null;
  language: Language;
  units: 'mm' | 'in';
  notices: Notice[];
  zones: Map<string, ZoneInspection>;
  rows: Map<string, RegisterRow>;
  observations: Map<string, Observation>;
  /** Those of earlier visits too, where the edition shows them. */
  photos: Map<string, PlacedPhoto>;
  /** The same in order: earlier visits first. */
  album: PlacedPhoto[];
}

export type SectionWriter = (context: Context) => Section[] | Section | null;

/** Builds the look-ups once. */
export function contextOf(input: WriteInput, notices: Notice[]): Context {
  const { inspection, earlier = [], pictures } = input;
  const album = [...earlier.flatMap((visit) => visit.inspection.photos).filter(({ photo }) => pictures.has(photo.id)), ...inspection.photos];
  return {
    ...input,
    earlier,
    comparison: input.comparison ?? null,
    language: inspection.job.settings.language,
    units: inspection.job.settings.units,
    notices,
    zones: new Map(inspection.zones.map((zone) => [zone.zone.id, zone])),
    rows: new Map(inspection.zones.flatMap((zone) => zone.rows.map((row) => [row.id, row] as const))),
    observations: new Map(inspection.zones.flatMap((zone) => zone.observations.map((one) => [one.id, one] as const))),
    photos: new Map(album.map((photo) => [photo.photo.id, photo])),
    album,
  };
}

/** Whether this edition prints a section at all. */
export function prints(context: Context, id: SectionId): boolean {
  return context.edition.sections.some((section) => section.id === id);
}

/** A zone nothing was written about has no page of its own; its rows stand in the register. */
export function hasPage(zone: ZoneInspection): boolean {
  return zone.entered;
}

/** Name of a zone id, in the dossier's language. */
export function nameOfZone(context: Context, id: string): string {
  const zone = context.zones.get(id) ?? context.earlier.flatMap(({ inspection }) => inspection.zones).find((one) => one.zone.id === id);
  return zone ? zoneName(zone.zone, context.language) : id;
}

/** Text of the first `key:` line of car or visit, null where it was not written or left empty. */
export function metaText(lines: readonly Meta[], key: string): string | null {
  return lines.find((line) => line.key === key && line.text.trim() !== '')?.text.trim() ?? null;
}

/** `findings.md:12:3` */
export function spotText(spot: { file: string; line?: number | undefined; column?: number | undefined }): string {
  return [spot.file, spot.line, spot.column].filter((part) => part !== undefined).join(':');
}
