import type { Dossier } from '../../src/model/dossier.ts';
import type { Inspection } from '../../src/model/inspection.ts';
import type { Settings } from '../../src/model/settings.ts';
import type { Visit } from '../../src/model/visits.ts';
import { place } from '../../src/place/index.ts';
import { plan } from '../../src/plan/index.ts';
import { readCatalogue } from '../../src/read/catalogue/index.ts';
import { readNotes } from '../../src/read/notes/index.ts';
import { ratesOf } from '../../src/read/rates.ts';
import { weigh } from '../../src/weigh/index.ts';
import { dossierOf } from './builders.ts';

const catalogue = readCatalogue();

/** Findings of a car's visits, oldest first, each in a folder `visit-1`, `visit-2` …, judged as the program does: each with those before it. In EUR. */
export function visitsOf(findings: readonly string[], given: Partial<Settings> = {}): Visit[] {
  const settings: Settings = { units: 'mm', language: 'en-GB', currency: 'EUR', ...given };
  const inspections: Inspection[] = [];
  return findings.map((text, index) => {
    const visit = `visit-${index + 1}`;
    const { notes, notices } = readNotes({ file: `${visit}/findings.md`, text, catalogue, settings, photoNames: [] });
    if (notes.car.length === 0) notes.car.push(...(inspections.at(-1)?.job.notes.car ?? []));
    const { rates, notices: rateNotices } = ratesOf(notes.rates, settings);
    const inspection = place({ catalogue, settings, visit, notes, rates, photos: [], notices: [...notices, ...rateNotices] });
    const outlook = weigh(inspection);
    const planned = plan(inspection, outlook, [...inspections]);
    inspections.push(inspection);
    return { inspection, outlook, plan: planned };
  });
}

/** The newest of several visits as a dossier. */
export function dossierOfVisits(findings: readonly string[], edition = 'history', given: Partial<Settings> = {}): Dossier {
  const visits = visitsOf(findings, given);
  const current = visits.at(-1);
  if (!current) throw new Error('no visit');
  return dossierOf(current, edition, null, { earlier: visits.slice(0, -1) });
}

/** Words of one section, a line for each run of text; cells of a row in one line. */
export function sectionText(dossier: Dossier, id: string): string {
  const said = (inline: readonly (string | { text: string })[]): string => inline.map((part) => (typeof part === 'string' ? part : part.text)).join('');
  return (dossier.sections.find((section) => section.id === id)?.blocks ?? []).flatMap((block) => {
    if (block.type === 'paragraph') return [said(block.inline)];
    if (block.type === 'heading') return [`## ${block.text}`];
    if (block.type !== 'table') return [];
    return [`[${block.caption}] ${block.columns.map((column) => column.title).join(' | ')}`, ...block.rows.map((row) => row.cells.map((cell) => said(cell.inline)).join(' | '))];
  }).join('\n');
}
