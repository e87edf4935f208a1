import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { pictureHints } from '../../src/print/pictures/hints.ts';
import { renderPictures } from '../../src/print/pictures/index.ts';
import { pixelMeasuresSchema } from '../../src/print/pictures/measure.ts';
import { readPhotos } from '../../src/read/photos/index.ts';
import { corpusFolder, corpusIsRequired } from './corpus.ts';

const folder = corpusFolder();
if (folder === null) {
  test('measures on real photos were left out: SILLBOOK_CORPUS names no folder', () => {
    expect(corpusIsRequired, 'on a build machine the corpus has to be there').toBe(false);
  });
} else {
  /** Measures of every photo of a part, as the pipeline makes and keeps them. */
  const measured = async (part: string) => {
    const made = await mkdtemp(join(tmpdir(), 'sillbook-corpus-'));
    try {
      const jobFolder = join(folder, part);
      const { photos } = await readPhotos(jobFolder);
      const { pictures } = await renderPictures(photos, { jobFolder, cacheFolder: join(made, 'cache'), outFolder: null });
      return photos.map((photo) => ({ photo, measures: pictures.get(photo.id)?.measures ?? null, shown: (pictures.get(photo.id)?.renditions.length ?? 0) > 0 }));
    } finally {
      await rm(made, { recursive: true, force: true });
    }
  };

  test.each(['photos', 'bad'])('every picture of %s that can be shown is measured, none as NaN', { timeout: 240_000 }, async (part) => {
    const all = await measured(part);
    expect(all.filter(({ shown, measures }) => shown !== (measures !== null)).map(({ photo }) => photo.path)).toEqual([]);
    const wrong = all.filter(({ measures }) => measures !== null && !pixelMeasuresSchema.safeParse(measures).success);
    expect(wrong.map(({ photo }) => photo.path)).toEqual([]);
    expect(all.filter(({ shown }) => shown).length).toBeGreaterThan(part === 'photos' ? 350 : 20);
  });

  test('good photos of real cameras get few hints, and true ones', { timeout: 120_000 }, async () => {
    const all = await measured('photos/cameras');
    const hints = pictureHints(all).filter(({ rule }) => rule !== 'photo-similar');
    // Looked at by eye: two of a chart out of focus, two of a chart too near the lens, one far overexposed.
    expect(hints.map(({ rule, spot }) => `${rule} ${spot?.file.split('/').at(-1)}`).toSorted()).toEqual([
      'photo-bright P1000240.JPG',
      'photo-unsharp DSC00002.JPG',
      'photo-unsharp DSC00003.JPG',
      'photo-unsharp IMG_0107.JPG',
      'photo-unsharp IMG_0108.JPG',
    ]);
    expect(all.length).toBeGreaterThanOrEqual(40);
  });

  test('no camera original is said to be saved by a program', async () => {
    const { photos } = await readPhotos(join(folder, 'photos', 'cameras'));
    expect(photos.filter((photo) => photo.editors.length > 0).map((photo) => photo.path)).toEqual([]);
  });

  test('one scene turned eight ways is one picture', { timeout: 60_000 }, async () => {
    const all = (await measured('photos/orientation')).filter(({ photo }) => photo.name.startsWith('Landscape_'));
    const found = pictureHints(all).map(({ found: words }) => words.replace(/_\d/, ''));
    expect(found).toEqual(Array(all.length - 1).fill('Almost the same picture as Landscape.jpg'));
  });
}
