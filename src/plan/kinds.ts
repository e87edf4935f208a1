import type { WorkKind } from '../model/catalogue.ts';
import type { Inspection, ZoneInspection } from '../model/inspection.ts';
import type { Notice, Spot } from '../model/notice.ts';
import type { Language } from '../model/wording.ts';
import { inSentence, termIn } from '../model/wording.ts';
import { worksOf } from '../model/zone-work.ts';

/** A kind of work written as done on a day. */
export interface Dated {
  /** Id of the kind. */
  kind: string;
  /** `2026-05-02` */
  date: string;
  spot: Spot;
}

/** The same zone at visits before this one, oldest first. */
export function earlierOf(earlier: readonly Inspection[], zone: ZoneInspection): ZoneInspection[] {
  return earlier.flatMap((visit) => visit.zones.filter((one) => one.zone.id === zone.zone.id));
}

/** Everything of a zone that is written as done with a date, each kind by itself, in the order written; that of earlier visits first. */
export function datedIn(zone: ZoneInspection, before: readonly ZoneInspection[]): Dated[] {
  return [...before, zone].flatMap(datedOf);
}

function datedOf(zone: ZoneInspection): Dated[] {
  return worksOf(zone).flatMap((work) => work.done).flatMap(({ date, kinds, spot }) => (date === null ? [] : kinds.map((kind) => ({ kind, date, spot }))));
}

/** Name of a kind of work inside a sentence. */
export function kindText(kind: WorkKind, language: Language): string {
  return inSentence(termIn(kind.name, language));
}

/** A notice about the order of work. */
export function orderNotice(level: Notice['level'], rule: string, spot: Spot, words: { found: string; expected: string; advice: string }): Notice {
  return { level, rule, spot, ...words };
}

/** "findings.md:12:3": where a line stands, for a notice that is about two. */
export function placeText({ file, line, column }: Spot): string {
  return [file, line, column].filter((one) => one !== undefined).join(':');
}
