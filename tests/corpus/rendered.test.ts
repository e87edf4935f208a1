import { spawnSync } from 'node:child_process';
import { mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { Photo } from '../../src/model/photo.ts';
import { renderPictures } from '../../src/print/pictures/index.ts';
import type { Delivered } from '../../src/print/pictures/index.ts';
import { readPhotos } from '../../src/read/photos/index.ts';
import { cells, difference, reference } from './colour.ts';
import { corpusFolder, corpusIsRequired } from './corpus.ts';

/** Mean difference of colour, CIE 1976, that the mean eye does not see at all is about 1; the goal is half of it. */
const goal = 0.5;

/** Photos whose colours may differ by more, and why. All others must meet the goal. */
const reasons: { name: string; most: number; of(photo: Photo, width: number, height: number): boolean }[] = [
  { name: 'fewer than 16 pixels across or down: the cells are single pixels, and a JPEG rounds those', most: 4, of: (_, width, height) => Math.min(width, height) < 16 },
  { name: 'HEIF of 10 or 12 bits a channel: the reference keeps 16, ours are cut to 8, a third of a step darker', most: 1, of: (photo) => /heif\/RGBA?_1[02]__/.test(photo.path) },
];

/** Why a photo of this folder is not shown, by what is said of it; photos of other words make the test fail. */
const notShown = ['not a picture Sillbook takes: listed and hashed, not shown', 'an empty file: listed and hashed, not shown', 'cannot be decoded: listed and hashed, not shown'];

/** The picture as Debian's heif-convert, with another version of libheif and of its decoder, makes it; null where it is not installed, which is said. */
function heifConverted(file: string, primary: number, into: string): string | null {
  rmSync(into, { recursive: true, force: true });
  const folder = mkdtempSync(into);
  const ran = spawnSync('heif-convert', [file, join(folder, 'p.png')], { encoding: 'utf8' });
  if (ran.error) {
    if (process.env['CI'] === 'true') throw ran.error;
    console.warn('heif-convert is not installed: the colours of HEIC pictures were not checked');
    return null;
  }
  const written = readdirSync(folder).toSorted();
  const name = written.includes('p.png') ? 'p.png' : `p-${primary + 1}.png`;
  return join(folder, name);
}

const folder = corpusFolder();
if (folder === null) {
  test('the corpus of real photos was left out: SILLBOOK_CORPUS names no folder', () => {
    expect(corpusIsRequired, 'on a build machine the corpus has to be there').toBe(false);
  });
} else {
  describe('every photo of the corpus', () => {
    const jobFolder = join(folder, 'photos');
    const made = mkdtempSync(join(tmpdir(), 'sillbook-rendered-'));
    const file = (delivered: Delivered | undefined): string => join(made, 'site', delivered?.renditions.at(-1)?.file ?? '');
    let photos: Photo[] = [];
    let pictures = new Map<string, Delivered>();
    beforeAll(async () => {
      photos = (await readPhotos(jobFolder)).photos;
      pictures = (await renderPictures(photos, { jobFolder, cacheFolder: join(made, 'cache'), outFolder: join(made, 'site') })).pictures;
    });
    afterAll(() => rmSync(made, { recursive: true, force: true }));
    const shown = (): { photo: Photo; delivered: Delivered }[] => photos.flatMap((photo) => {
      const delivered = pictures.get(photo.id);
      return delivered && delivered.renditions.length > 0 ? [{ photo, delivered }] : [];
    });

    test('is shown, or says why not', () => {
      const silent = photos.filter((photo) => pictures.get(photo.id)?.renditions.length === 0 && !notShown.includes(pictures.get(photo.id)?.flaw ?? ''));
      expect(silent.map((photo) => [photo.path, pictures.get(photo.id)?.flaw])).toEqual([]);
      expect(shown().length).toBeGreaterThan(400);
      expect(photos.filter((photo) => photo.format === 'heif' && pictures.get(photo.id)?.renditions.length === 0)).toEqual([]);
    });

    test('is upright and in its colours, or of those listed with the reason', async () => {
      const wrong: string[] = [];
      const counts = { compared: 0, excused: 0 };
      for (const { photo, delivered } of shown()) {
        const original = join(jobFolder, photo.path);
        let from: string | null = original;
        if (photo.format === 'heif') from = heifConverted(original, (await sharp(original).metadata()).pagePrimary ?? 0, join(made, 'reference'));
        if (from === null || delivered.flaw !== '') continue;
        const image = reference(from, { turn: photo.format !== 'heif' });
        const facts = await image.metadata();
        const { width, height } = photo.format === 'heif' ? facts : facts.autoOrient;
        const last = delivered.renditions.at(-1);
        if (Math.abs(width / height / ((last?.width ?? 0) / (last?.height ?? 1)) - 1) > 0.02) wrong.push(`${photo.path}: ${width} by ${height} shown as ${last?.width} by ${last?.height}`);
        const { mean } = difference(await cells(image), await cells(sharp(file(delivered))));
        const excuse = reasons.find((reason) => reason.of(photo, width, height));
        if (excuse) counts.excused += 1;
        else counts.compared += 1;
        if (!(mean <= (excuse?.most ?? goal))) wrong.push(`${photo.path}: ${mean.toFixed(2)}`);
      }
      expect(wrong).toEqual([]);
      expect(counts.compared).toBeGreaterThan(320);
      expect(counts.excused).toBeLessThan(80);
    });

    test('carries nothing but pixels: no position, owner, serial number or maker notes', () => {
      const ran = spawnSync('exiftool', ['-j', '-m', '-q', '-G1', '-a', '-u', '-r', join(made, 'site', 'photos')], { encoding: 'utf8', maxBuffer: 1 << 28 });
      if (ran.error) {
        if (process.env['CI'] === 'true') throw ran.error;
        console.warn('exiftool is not installed: what it would find in the pictures was not checked');
        return;
      }
      const found = JSON.parse(ran.stdout) as Record<string, string>[];
      expect(found).toHaveLength(readdirSync(join(made, 'site', 'photos')).length);
      const strange = found.flatMap((one) => Object.keys(one).filter((key) => key.includes(':') && !['ExifTool', 'System', 'File', 'JFIF', 'Composite'].includes(key.split(':')[0] ?? '')).map((key) => `${one['SourceFile']} ${key}`));
      expect(strange).toEqual([]);
      // What ExifTool warns of is not what we write: it has to read every one as a plain JPEG.
      expect(found.filter((one) => one['File:FileType'] !== 'JPEG' || one['File:Comment'] !== undefined)).toEqual([]);
    });

    test.each(['Landscape', 'Portrait'])('%s is the same scene whichever of the eight ways it was stored', async (scene) => {
      const of = (orientation: number): Promise<Awaited<ReturnType<typeof cells>>> => {
        const photo = photos.find((one) => one.path === `orientation/${scene}_${orientation}.jpg`);
        if (!photo) throw new Error(`no ${scene} ${orientation}`);
        return cells(sharp(file(pictures.get(photo.id))));
      };
      const first = await of(1);
      for (const orientation of [2, 3, 4, 5, 6, 7, 8]) expect(difference(first, await of(orientation)).mean, `orientation ${orientation}`).toBeLessThan(3);
      // Turned once too often the cells are those of other places.
      const turned = { ...first, lab: first.lab.toReversed() };
      expect(difference(first, turned).mean).toBeGreaterThan(6);
    });
  });
}
