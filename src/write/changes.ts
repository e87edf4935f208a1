import type { IssueChanges, IssueName } from '../model/changes.ts';
import type { Dossier } from '../model/dossier.ts';
import { dateText } from '../units.ts';

type Line = Dossier['findings'][number];

/** What changed to a dossier from the issues before it, oldest first; null where there is none. */
export function changesSince(issued: readonly Dossier[], after: Dossier): IssueChanges | null {
  const sameReader = issued.filter((one) => one.edition.id === after.edition.id);
  const before = sameReader.at(-1) ?? issued.at(-1);
  if (!before) return null;
  const superseded = sameReader.filter((one) => one.seenOn === after.seenOn);
  return {
    before: nameOf(before),
    superseded: superseded.map(nameOf),
    beside: issued.filter((one) => !superseded.includes(one)).map((one) => ({ ...nameOf(one), edition: one.edition.title, seenOn: one.seenOn })),
    changes: changesBetween(before, after),
  };
}

function nameOf({ status }: Dossier): IssueName {
  if (status.kind !== 'issue') throw new Error('Changes are told against an issue, not against a draft');
  return { number: status.number, date: status.date };
}

/** Every line of the findings, every photo, coverage, in words. Of two visits only that they are two: their lines are of different days. */
function changesBetween(before: Dossier, after: Dossier): string[] {
  if (before.seenOn !== after.seenOn) return [`Made of the visit of ${dayText(after)}, before of that of ${dayText(before)}: what became of things between the two is told where the dossier compares visits.`, ...whole(before, after)];
  const lines = lineChanges(before.findings, after.findings);
  // The same lines may be judged otherwise by another version of the program or of its catalogue.
  const judged = lines.length === 0 ? rowChanges(before, after) : [];
  return [...whole(before, after), ...lines, ...judged, ...photoChanges(before, after)];
}

function dayText({ seenOn }: Dossier): string {
  return seenOn === null ? 'a day not written' : dateText(seenOn);
}

function whole(before: Dossier, after: Dossier): string[] {
  const changes: string[] = [];
  if (before.edition.id !== after.edition.id) changes.push(`Made for another reader: ${after.edition.title}, before ${before.edition.title}.`);
  if (before.generator.version !== after.generator.version) changes.push(`Made with Sillbook ${after.generator.version}, before ${before.generator.version}.`);
  if (before.coverage.words !== after.coverage.words) changes.push(`Coverage: ${after.coverage.words}; before: ${before.coverage.words}.`);
  return changes;
}

/** Lines added and taken out, heading by heading; two with the same words before the colon are one line changed. */
function lineChanges(before: readonly Line[], after: readonly Line[]): string[] {
  const gone = without(before, after);
  const added = without(after, before);
  const changes: string[] = [];
  for (const line of added) {
    const at = gone.findIndex((one) => one.under === line.under && keyOf(one) === keyOf(line));
    const [was] = at < 0 ? [] : gone.splice(at, 1);
    changes.push(was ? `${place(line)}now “${line.text}”, before “${was.text}”.` : `${place(line)}new: “${line.text}”.`);
  }
  return [...changes, ...gone.map((line) => `${place(line)}taken out: “${line.text}”.`)];
}

/** Lines of one list that the other has not, each counted. */
function without(lines: readonly Line[], others: readonly Line[]): Line[] {
  const left = new Map<string, number>();
  for (const line of others) left.set(identity(line), (left.get(identity(line)) ?? 0) + 1);
  return lines.filter((line) => {
    const count = left.get(identity(line)) ?? 0;
    left.set(identity(line), count - 1);
    return count <= 0;
  });
}

function identity({ under, text }: Line): string {
  return `${under}\n${text}`;
}

function keyOf({ text }: Line): string {
  return (text.split(':')[0] ?? '').toLowerCase();
}

function place({ under }: Line): string {
  return under === '' ? '' : `${under}: `;
}

/** Rows of the register that are judged otherwise, by name. Counted ones have no identity from one issue to the next. */
function rowChanges(before: Dossier, after: Dossier): string[] {
  const old = new Map(before.register.map((row) => [row.id, row]));
  return after.register.flatMap((row) => {
    const was = old.get(row.id);
    if (!was || row.known === 'counted' || was.outcome === row.outcome) return [];
    const zone = after.sections.find((section) => section.id === row.zone)?.title ?? row.zone;
    return [`${[zone, row.part.replaceAll('-', ' '), row.place].filter((one) => one !== '').join(', ')}: ${row.outcome}, before ${was.outcome}.`];
  });
}

function photoChanges(before: Dossier, after: Dossier): string[] {
  const old = new Map(before.photos.map((photo) => [photo.file, photo.sha256]));
  const now = new Set(after.photos.map((photo) => photo.file));
  const changes: string[] = [];
  for (const { file, sha256 } of after.photos) {
    const was = old.get(file);
    if (was === undefined) changes.push(`Photo ${file}: new.`);
    else if (was !== sha256) changes.push(`Photo ${file}: the file is not the one of the issue before.`);
  }
  for (const file of old.keys()) if (!now.has(file)) changes.push(`Photo ${file}: no longer in the job.`);
  return changes.sort();
}
