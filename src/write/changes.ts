import type { IssueChanges } from '../model/changes.ts';
import type { Dossier } from '../model/dossier.ts';

type Row = Dossier['register'][number];

/** What changed from an issued dossier to the one that follows it: rows of the register, photos, coverage. Sorted, in words. */
export function changesBetween(before: Dossier, after: Dossier): IssueChanges {
  const { status } = before;
  if (status.kind !== 'issue') throw new Error('Changes are told against an issue, not against a draft');
  const changes = [...editionChange(before, after), ...rowChanges(before.register, after.register), ...photoChanges(before, after), ...words(before, after)];
  return { before: { number: status.number, date: status.date }, changes };
}

function editionChange(before: Dossier, after: Dossier): string[] {
  return before.edition.id === after.edition.id ? [] : [`Made for another reader: ${after.edition.title}, before ${before.edition.title}.`];
}

function words(before: Dossier, after: Dossier): string[] {
  const changes: string[] = [];
  if (before.title !== after.title) changes.push(`The car is named “${after.title}”, before “${before.title}”.`);
  if (before.coverage.words !== after.coverage.words) changes.push(`Coverage: ${after.coverage.words}; before: ${before.coverage.words}.`);
  return changes;
}

function rowChanges(before: readonly Row[], after: readonly Row[]): string[] {
  const old = new Map(before.map((row) => [row.id, row]));
  const now = new Set(after.map((row) => row.id));
  const changes: string[] = [];
  for (const row of after) {
    const was = old.get(row.id);
    if (!was) changes.push(`${nameOf(row)}: newly in the register, ${stateOf(row)}.`);
    else if (stateOf(was) !== stateOf(row)) changes.push(`${nameOf(row)}: ${stateOf(row)}, before ${stateOf(was)}.`);
  }
  for (const row of before) if (!now.has(row.id)) changes.push(`${nameOf(row)}: no longer in the register, before ${stateOf(row)}.`);
  return changes.sort();
}

function nameOf(row: Row): string {
  return [row.zone, row.part, row.place].filter((one) => one !== '').join(', ');
}

function stateOf(row: Row): string {
  return row.conditions.length === 0 ? row.outcome : `${row.outcome} (${row.conditions.join(', ')})`;
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
