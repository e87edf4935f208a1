import type { Dossier, Section } from '../model/dossier.ts';
import type { Notice } from '../model/notice.ts';
import { noticeLine } from '../model/notice.ts';
import { coverageText, dateText } from '../units.ts';
import { contextOf, metaText } from './context.ts';
import type { Context, WriteInput } from './context.ts';
import { dossierFindings, dossierPhotos, dossierRows } from './data.ts';
import { indexData } from './index-data.ts';
import { settleLinks } from './inline.ts';
import { outlookData } from './outlook-data.ts';
import { dossierRustedAreas } from './rusted.ts';
import { dossierRecord } from './record-data.ts';
import { sectionWriters } from './sections/index.ts';
import { spelled } from './spelling.ts';
import { dossierWork } from './work-data.ts';

export type { Originals, WriteInput } from './context.ts';

/** Everything as one plain document, in the order and depth of an edition. Satisfies `dossierSchema`; pure. */
export function write(input: WriteInput): Dossier {
  const { inspection, edition, issue, originals, version } = input;
  const context = contextOf(input, noticesOf(input));
  const { coverage } = inspection;
  return {
    $schema: './dossier.schema.json',
    format: 'sillbook-dossier-1',
    generator: { name: 'sillbook', version },
    language: context.language,
    edition: { id: edition.id, title: edition.title, reader: edition.reader },
    status: issue ? { kind: 'issue', number: issue.number, date: issue.date } : { kind: 'draft' },
    title: titleOf(context),
    subtitle: subtitleOf(context),
    limits: limitsOf(context),
    author: metaText(inspection.job.notes.visit, 'by') ?? inspection.job.settings.workshop ?? 'Inspector not named',
    seenOn: inspection.job.notes.seen?.date ?? null,
    coverage: { ...coverage, words: coverageText(coverage) },
    sections: spelled(settleLinks(sectionsOf(context)), context),
    photos: dossierPhotos(context),
    register: dossierRows(context),
    rustedAreas: dossierRustedAreas(context),
    work: dossierWork(context),
    ...dossierRecord(context),
    index: indexData(context),
    findings: dossierFindings(context),
    outlook: outlookData(input.outlook, inspection.job.catalogue.risk),
    originals: { listSha256: originals.listSha256, count: originals.count },
    notices: context.notices,
  };
}

/** Notices of all stages once each, in the order they came. */
function noticesOf(input: WriteInput): Notice[] {
  const all = [...input.inspection.job.notices, ...input.inspection.notices, ...input.outlook.car.notices, ...input.plan.notices, ...input.edition.notices];
  return [...new Map(all.map((notice) => [noticeLine(notice), notice])).values()];
}

/**
 * Sections in the edition's order, those of one page brought together. The site opens on `index`: where an edition puts
 * nothing there, its first page takes that name. Only the first section of a page names it in the navigation.
 */
function sectionsOf(context: Context): Section[] {
  const placed = context.edition.sections.flatMap(({ id, page }) => {
    const made = sectionWriters[id](context);
    const sections = made === null ? [] : Array.isArray(made) ? made : [made];
    return sections.map((section) => (page === null || id === 'zone-pages' ? section : { ...section, page }));
  });
  const first = placed[0]?.page;
  const named = placed.some((section) => section.page === 'index') ? placed : placed.map((section) => (section.page === first ? { ...section, page: 'index' } : section));
  const pages = [...new Set(['index', ...named.map((section) => section.page)])];
  return pages.flatMap((page) => named.filter((section) => section.page === page).map((section, index) => (index === 0 ? section : withoutNav(section))));
}

function withoutNav(section: Section): Section {
  const { nav: _nav, ...rest } = section;
  return rest;
}

function titleOf(context: Context): string {
  const { car } = context.inspection.job.notes;
  const name = metaText(car, 'car') ?? 'Car, no name written';
  const built = metaText(car, 'built');
  return built === null || name.includes(built) ? name : `${name}, ${built}`;
}

function subtitleOf(context: Context): string {
  const { notes } = context.inspection.job;
  const { seen } = notes;
  const hours = seen?.from ? `, ${seen.from}${seen.to ? ` to ${seen.to}` : ''}` : '';
  const by = metaText(notes.visit, 'by');
  const wanted = metaText(notes.visit, 'for');
  const parts = [
    seen ? `looked at on ${dateText(seen.date)}${hours}` : 'date of the visit not written',
    ...[metaText(notes.visit, 'place')].filter((text) => text !== null),
    by === null ? 'inspector not named' : `by ${by}`,
    ...(wanted === null ? [] : [`for ${wanted}`]),
  ];
  const text = parts.join('; ');
  return text.charAt(0).toUpperCase() + text.slice(1);
}

function limitsOf(context: Context): string {
  if (context.inspection.zones.some((zone) => zone.carried)) return 'Condition on the day each zone was last looked at, as far as seen; not a test of roadworthiness, not a valuation';
  const { seen } = context.inspection.job.notes;
  const day = seen ? dateText(seen.date) : 'the day of the visit';
  return `Condition on ${day} only, as far as seen; not a test of roadworthiness, not a valuation`;
}
