import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import sharp from 'sharp';
import type { Dossier } from '../../src/model/dossier.ts';
import { calendarText } from '../../src/print/data/calendar.ts';
import { printPdf } from '../../src/print/pdf/index.ts';
import { printSite } from '../../src/print/site/index.ts';

/** What is no text of a dossier but an id, an address, or one of a closed list. */
const ids = new Set(['id', 'page', 'type', 'tone', 'look', 'href', 'zone', 'body', 'state', 'photo', 'figure', 'origin', 'align', 'shape', 'file', 'zones', 'kind', 'of', 'language', 'photos', 'taken', 'carriesLoad', 'part', 'known', 'outcome', 'cavity', 'written']);

/** A hash stays one, as it is looked for by what it looks like. */
const hidden = (text: string): string => (/^[0-9a-f]{64}$/.test(text) ? text.replaceAll(/[a-f]/g, '0') : text.replaceAll(/\p{L}/gu, 'x'));

/** The same with x for every letter of its texts. */
function masked<T>(value: T, key = ''): T {
  if (typeof value === 'string') return (ids.has(key) ? value : hidden(value)) as T;
  if (Array.isArray(value)) return value.map((one) => (typeof one === 'string' && ids.has(key) ? one : masked(one, typeof one === 'string' ? key : ''))) as T;
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(Object.entries(value).map(([name, one]) => [name, masked(one, name)])) as T;
}

/** Prints a dossier whose own words are x, with the words of this copy of the program. Run by `words.test.ts` in a copy whose words are marked. */
export async function printMasked(dossierFile: string, out: string): Promise<void> {
  const given = JSON.parse(readFileSync(dossierFile, 'utf8')) as Dossier;
  const { title, subtitle, limits, author, coverage, sections, photos, index, edition, register } = given;
  const dossier: Dossier = {
    ...given,
    ...masked({ title, subtitle, limits, author, coverage, sections, index, register }),
    photos: photos.map((photo) => ({ ...masked(photo), file: hidden(photo.file) })),
    edition: { ...edition, ...masked({ title: edition.title, reader: edition.reader }) },
    originals: { ...given.originals, listSha256: '1234567890123456'.repeat(4) },
    again: ['2026-10', '2026-10-01'].flatMap((due) => (['due', 'open'] as const).map((state) => ({ zone: 'sill-left', name: 'xxxx', due, state, words: `${due}, xx`, visit: state === 'due' ? null : '2026-03-14' }))) as NonNullable<Dossier['again']>,
  };
  for (const { file, width, height } of dossier.photos.flatMap(({ renditions }) => renditions)) {
    mkdirSync(path.dirname(path.join(out, file)), { recursive: true });
    await sharp({ create: { width, height, channels: 3, background: '#888888' } }).jpeg().toFile(path.join(out, file));
  }
  await printPdf(dossier, { file: path.join(out, 'dossier.pdf'), pictureFolder: out });
  const alone = await printSite(dossier, { work: path.join(out, '..', 'work'), out, pdf: 'dossier.pdf', oneFile: 'alone.html' });
  writeFileSync(path.join(out, 'alone.html'), alone ?? '');
  writeFileSync(path.join(out, 'look-again.ics'), calendarText(dossier) ?? '');
  const issue: Dossier = { ...dossier, status: { ...given.status, kind: 'issue', number: '2026-014', date: '2026-03-15' } as Dossier['status'] };
  await printPdf(issue, { file: path.join(out, 'issue.pdf'), pictureFolder: out });
}

const [, , dossierFile, out] = process.argv;
if (dossierFile !== undefined && out !== undefined) await printMasked(dossierFile, out);
