import type { Inspection, ReadingVerdict } from '../../src/model/inspection.ts';
import { noticeLine } from '../../src/model/notice.ts';
import { noRates } from '../../src/model/rates.ts';
import { place } from '../../src/place/index.ts';
import { catalogue, notesOf } from '../read/notes-helper.ts';

/** Findings text read with the real catalogue and placed, as a saloon without photos. */
export function placed(findings: string): Inspection {
  const { notes, notices } = notesOf(`# Car\n\n- body: saloon\n\n${findings}\n`);
  return place({ catalogue, settings: { units: 'mm', language: 'en-GB' }, notes, rates: noRates, photos: [], notices });
}

/** Verdicts of the readings of a zone, in the order written. */
export function verdictsOf(findings: string, zone = 'sill-left'): ReadingVerdict[] {
  return placed(findings).zones.find((one) => one.zone.id === zone)?.readings.map((one) => one.verdict) ?? [];
}

/** Notices about readings and baselines, one line each. */
export function readingNotices(findings: string): string[] {
  return placed(findings).notices.filter(({ rule }) => /^(reading|baseline)-/.test(rule)).map(noticeLine);
}
