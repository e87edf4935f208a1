import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import type { Photo } from '../../src/model/photo.ts';
import { readPhotos } from '../../src/read/photos/index.ts';
import { corpusFolder, corpusIsRequired } from './corpus.ts';

// Every value here is what ExifTool 12.57 reads from real files: a reader with which ours shares no code.

/** Where we mean to differ: path, column, our value, and why. Each has to occur, or it is struck out here. */
const exceptions: { path: string; column: string; ours: string; why: string }[] = [
  { path: 'photos/orientation/Landscape_0.jpg', column: 'IFD0:Orientation', ours: '1', why: '0 is no orientation: shown as it lies, with a notice' },
  { path: 'photos/orientation/Portrait_0.jpg', column: 'IFD0:Orientation', ours: '1', why: '0 is no orientation: shown as it lies, with a notice' },
];

const columns: Record<string, (photo: Photo) => string | number | null> = {
  'IFD0:Make': (photo) => photo.make,
  'IFD0:Model': (photo) => photo.model,
  'ExifIFD:DateTimeOriginal': (photo) => photo.exif.dateTimeOriginal,
  'ExifIFD:SubSecTimeOriginal': (photo) => photo.exif.subSecTimeOriginal,
  'ExifIFD:OffsetTimeOriginal': (photo) => photo.exif.offsetTimeOriginal,
  'IFD0:ModifyDate': (photo) => photo.exif.modifyDate,
  'IFD0:Orientation': (photo) => photo.orientation,
  'GPSLatitude(signed)': (photo) => photo.exif.gpsLatitude,
  'GPSLongitude(signed)': (photo) => photo.exif.gpsLongitude,
  GPSDateStamp: (photo) => photo.exif.gpsDate,
  GPSTimeStamp: (photo) => photo.exif.gpsTime,
  'XMP/IPTC keywords': (photo) => photo.keywords.join('; '),
};

type Row = Record<string, string>;

function table(folder: string): Row[] {
  const [head = [], ...rows] = readFileSync(join(folder, 'expected-exif.tsv'), 'utf8').trimEnd().split('\n').map((line) => line.split('\t'));
  return rows.map((cells) => Object.fromEntries(head.map((name, index) => [name, (cells[index] ?? '').trim()])));
}

function same(column: string, wanted: string, found: string | number | null): boolean {
  const text = String(found ?? '');
  // Degrees are printed with 15 digits by one and 17 by the other.
  if (column.includes('itude') && wanted !== '' && text !== '') return Math.abs(Number(wanted) - Number(text)) < 1e-9;
  // A file without the tag is shown as it lies.
  if (column === 'IFD0:Orientation' && wanted === '') return text === '1';
  return text === wanted;
}

const folder = corpusFolder();
if (folder === null) {
  test('the corpus of real photos was left out: SILLBOOK_CORPUS names no folder', () => {
    expect(corpusIsRequired, 'on a build machine the corpus has to be there').toBe(false);
  });
} else {
  describe('real photos', () => {
    const rows = new Map(table(folder).map((row) => [row['path'] ?? '', row]));

    test('EXIF, GPS and keywords are what ExifTool reads, on every file', async () => {
      const { photos } = await readPhotos(join(folder, 'photos'));
      const differences: string[] = [];
      let compared = 0;
      for (const photo of photos) {
        const row = rows.get(`photos/${photo.path}`);
        if (!row || photo.format === null) continue;
        compared++;
        for (const [column, value] of Object.entries(columns)) {
          const found = value(photo);
          if (!same(column, row[column] ?? '', found)) differences.push(`photos/${photo.path} ${column}: ${row[column]} → ${found}`);
        }
      }
      const meant = exceptions.map(({ path, column, ours }) => `${path} ${column}: ${rows.get(path)?.[column]} → ${ours}`);
      expect(differences.toSorted()).toEqual(meant.toSorted());
      // All formats are in, and real cameras among them: a corpus gone missing must not look like agreement.
      expect(compared).toBeGreaterThanOrEqual(400);
      expect(new Set(photos.map((photo) => photo.format))).toEqual(new Set(['jpeg', 'png', 'tiff', 'webp', 'heif', 'avif', null]));
      expect(photos.filter((photo) => photo.exif.dateTimeOriginal !== null).length).toBeGreaterThanOrEqual(60);
    });

    test('no file that ExifTool finds EXIF in is refused as no picture', async () => {
      const { photos, others } = await readPhotos(join(folder, 'photos'));
      const refused = [...others, ...photos.filter((photo) => photo.format === null).map((photo) => photo.path)];
      const withExif = refused.filter((path) => rows.get(`photos/${path}`)?.['IFD0:Make'] || rows.get(`photos/${path}`)?.['ExifIFD:DateTimeOriginal']);
      expect(withExif).toEqual([]);
    });
  });
}
