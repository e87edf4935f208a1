import { existsSync, readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Edition, SectionId } from '../model/edition.ts';
import { requiredSections, sectionIds } from '../model/edition.ts';
import type { Notice } from '../model/notice.ts';

/** Both `src/read/` and `dist/read/` lie two levels below the package. */
const folder = fileURLToPath(new URL('../../templates/editions', import.meta.url));

/** Names of all editions, sorted. */
export function editionIds(): string[] {
  return readdirSync(folder)
    .filter((name) => name.endsWith('.md'))
    .map((name) => name.slice(0, -'.md'.length))
    .sort();
}

/** Reads `templates/editions/<id>.md`. Faults in it, its absence too, are error notices of the edition. */
export function readEdition(id: string): Edition {
  const file = path.join(folder, `${id}.md`);
  const shown = `templates/editions/${id}.md`;
  if (/^[a-z][a-z0-9-]*$/.test(id) && existsSync(file)) return parseEdition(id, readFileSync(file, 'utf8'), shown);
  const notice: Notice = { level: 'error', rule: 'edition-missing', spot: { file: shown }, found: `No edition "${id}"`, expected: `one of ${editionIds().join(', ')}`, advice: 'Choose one of these, or add the file.' };
  return { id, title: id, reader: '', sections: [], opening: '', limits: '', notices: [notice] };
}

/** An edition's Markdown: `# Title`, `- reader: …`, then `## Opening`, `## Limits` and `## Sections`. `file` is for messages. */
export function parseEdition(id: string, text: string, file: string): Edition {
  const edition: Edition = { id, title: '', reader: '', sections: [], opening: '', limits: '', notices: [] };
  const parts: Record<string, string[]> = { Opening: [], Limits: [] };
  let part = '';
  for (const [index, line] of text.replace(/^\uFEFF/, '').split(/\r\n|\n|\r/).entries()) {
    const heading = /^(#{1,2})\s+(.+?)\s*$/.exec(line);
    const item = /^[-*]\s+(.+?)\s*$/.exec(line)?.[1];
    if (heading?.[1] === '#') edition.title = heading[2] ?? '';
    else if (heading) part = heading[2] ?? '';
    else if (part in parts) parts[part]?.push(line);
    else if (item?.startsWith('reader:') && part === '') edition.reader = item.slice('reader:'.length).trim();
    else if (item && part === 'Sections') takeSection(edition, item, { file, line: index + 1 });
    else if (line.trim() !== '') edition.notices.push(fault('edition-line-unknown', { file, line: index + 1 }, `Unexpected "${line.trim()}"`, 'a heading Opening, Limits or Sections above it', 'Move the line under one of them.'));
  }
  edition.opening = (parts['Opening'] ?? []).join('\n').trim();
  edition.limits = (parts['Limits'] ?? []).join('\n').trim();
  edition.notices.push(...missing(edition, file));
  return edition;
}

/** `register`, or `views, on index` for another page than usual. */
function takeSection(edition: Edition, item: string, spot: { file: string; line: number }): void {
  const [, name = '', page = null] = /^([^,]+?)(?:,\s*on\s+([a-z0-9]+(?:-[a-z0-9]+)*))?$/.exec(item) ?? [null, item];
  const known: SectionId | undefined = sectionIds.find((one) => one === name);
  if (known === undefined) {
    edition.notices.push(fault('edition-section-unknown', spot, `Unexpected section "${name}"`, `one of ${sectionIds.join(', ')}`, 'Mend or remove the line.'));
  } else if (edition.sections.some((one) => one.id === known)) {
    edition.notices.push(fault('edition-section-twice', spot, `Section "${known}" a second time`, 'each section once', 'Remove one of the two lines.'));
  } else {
    edition.sections.push({ id: known, page });
  }
}

function missing(edition: Edition, file: string): Notice[] {
  const left = requiredSections.filter((id) => !edition.sections.some((section) => section.id === id));
  return [
    ...(edition.title === '' ? [fault('edition-title-missing', { file }, 'No title', 'a first line such as "# For the buyer"', 'Add it.')] : []),
    ...(left.length > 0 ? [fault('edition-section-missing', { file }, `Sections left out: ${left.join(', ')}`, 'these in every edition', 'Add them under "## Sections", in any order.')] : []),
  ];
}

function fault(rule: string, spot: { file: string; line?: number }, found: string, expected: string, advice: string): Notice {
  return { level: 'error', rule, spot, found, expected, advice };
}
