import { mkdtemp, readdir, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { expect, test } from 'vitest';
import { renderPictures } from '../../src/print/pictures/index.ts';
import { secondsPerPhoto } from '../../src/print/pictures/limits.ts';
import { readPhotos } from '../../src/read/photos/index.ts';
import { corpusFolder, corpusIsRequired } from './corpus.ts';

const folder = corpusFolder();
if (folder === null) {
  test('the corpus of damaged and hostile pictures was left out: SILLBOOK_CORPUS names no folder', () => {
    expect(corpusIsRequired, 'on a build machine the corpus has to be there').toBe(false);
  });
} else {
  test.each(['bad', 'photos'])('every file of %s is shown or told of, none breaks the build', { timeout: 60_000 }, async (part) => {
    const made = await mkdtemp(join(tmpdir(), 'sillbook-corpus-'));
    try {
      const jobFolder = join(folder, part);
      const files = (await readdir(jobFolder, { recursive: true, withFileTypes: true })).filter((entry) => entry.isFile()).length;
      const { photos, others, notices } = await readPhotos(jobFolder);
      expect(photos.length + others.length).toBe(files);
      const rendered = await renderPictures(photos, { jobFolder, cacheFolder: join(made, 'cache'), outFolder: join(made, 'site') });
      const told = new Set([...notices, ...rendered.notices].map((notice) => notice.spot?.file));
      const silent = photos.filter((photo) => (rendered.pictures.get(photo.id)?.renditions.length ?? 0) === 0 && !told.has(photo.path));
      expect(silent.map((photo) => photo.path)).toEqual([]);
      expect(others.filter((path) => !told.has(path))).toEqual([]);
      const flawed = photos.filter((photo) => (rendered.pictures.get(photo.id)?.renditions.length ?? 0) === 0 && rendered.pictures.get(photo.id)?.flaw === '');
      expect(flawed).toEqual([]);
      for (const { renditions } of rendered.pictures.values()) {
        const last = renditions.at(-1);
        if (!last) continue;
        const { width, height, exif, icc } = await sharp(join(made, 'site', last.file)).metadata();
        expect([width, height, exif, icc]).toEqual([last.width, last.height, undefined, undefined]);
      }
    } finally {
      await rm(made, { recursive: true, force: true });
    }
  });

  test('each bad file by itself: whole, or a notice of what is wrong with it, within the time one photo is given', async () => {
    const made = await mkdtemp(join(tmpdir(), 'sillbook-corpus-'));
    try {
      const jobFolder = join(folder, 'bad');
      const { photos, notices } = await readPhotos(jobFolder);
      const told = new Set(notices.map((notice) => notice.spot?.file));
      const wrong: string[] = [];
      let whole = 0;
      for (const photo of photos) {
        const started = performance.now();
        const rendered = await renderPictures([photo], { jobFolder, cacheFolder: join(made, 'cache'), outFolder: join(made, 'site') });
        const seconds = (performance.now() - started) / 1000;
        if (seconds > secondsPerPhoto + 5) wrong.push(`${photo.path}: ${seconds} s`);
        if (told.has(photo.path) || rendered.notices.length > 0) continue;
        // Shown without a word: then every pixel of it has to be there, by a decoder that takes no warning and skips nothing.
        whole += 1;
        if (photo.format !== 'heif') await sharp(join(jobFolder, photo.path), { failOn: 'warning' }).raw().toBuffer().catch((error: unknown) => wrong.push(`${photo.path}: ${String(error)}`));
      }
      expect(wrong).toEqual([]);
      expect(whole).toBeGreaterThan(0);
    } finally {
      await rm(made, { recursive: true, force: true });
    }
  });

  test('pictures that would fill the memory are refused by their number of pixels', async () => {
    const made = await mkdtemp(join(tmpdir(), 'sillbook-corpus-'));
    try {
      const jobFolder = join(folder, 'bad', 'sharp');
      const { photos } = await readPhotos(jobFolder);
      const giants = photos.filter((photo) => ['giant-image.jpg', '65536-uint32-limit.png'].includes(photo.name));
      const { pictures, notices } = await renderPictures(giants, { jobFolder, cacheFolder: join(made, 'cache'), outFolder: join(made, 'site') });
      expect([...pictures.values()].map((each) => each.flaw.replace(/\d+/, 'n'))).toEqual(Array(2).fill('n million pixels: listed and hashed, not shown'));
      expect(notices.map((notice) => notice.rule)).toEqual(['photo-undecodable', 'photo-undecodable']);
    } finally {
      await rm(made, { recursive: true, force: true });
    }
  });

  test('no camera original is called damaged', { timeout: 60_000 }, async () => {
    const made = await mkdtemp(join(tmpdir(), 'sillbook-corpus-'));
    try {
      for (const part of ['cameras', 'ultra-hdr', 'orientation']) {
        const jobFolder = join(folder, 'photos', part);
        const { photos } = await readPhotos(jobFolder);
        const { notices } = await renderPictures(photos, { jobFolder, cacheFolder: join(made, 'cache'), outFolder: join(made, 'site') });
        expect(notices.filter((notice) => notice.rule === 'photo-damaged')).toEqual([]);
      }
    } finally {
      await rm(made, { recursive: true, force: true });
    }
  });
}
