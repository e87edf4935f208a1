import { mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises';
import { readFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { renderPictures } from '../../src/print/pictures/index.ts';
import { readPhotos } from '../../src/read/photos/index.ts';
import { corpusFolder, corpusIsRequired } from '../corpus/corpus.ts';

let folder = '';
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'sillbook-extras-'));
  await mkdir(join(folder, 'job'));
});
afterEach(async () => {
  await rm(folder, { recursive: true, force: true });
});

const jpeg = (): Promise<Buffer> => sharp({ create: { width: 60, height: 40, channels: 3, background: '#a05030' } }).jpeg().toBuffer();

/** A box of ISO/IEC 14496-12. */
function box(name: string, content: Buffer): Buffer {
  const head = Buffer.alloc(8);
  head.writeUInt32BE(8 + content.length);
  head.write(name, 4, 'latin1');
  return Buffer.concat([head, content]);
}

const film = Buffer.concat([box('ftyp', Buffer.from('mp42\0\0\0\0isommp42', 'latin1')), box('mdat', Buffer.alloc(500, 7))]);

/** Rules of a file, of the reader and of the maker of pictures, and how many pictures were made of it. */
async function told(name: string, bytes: Buffer): Promise<{ rules: string[]; sizes: number[][] }> {
  await writeFile(join(folder, 'job', name), bytes);
  const { photos, notices } = await readPhotos(join(folder, 'job'));
  const made = await renderPictures(photos, { jobFolder: join(folder, 'job'), cacheFolder: join(folder, 'cache'), outFolder: join(folder, 'site') });
  // The files made here are smaller than any photo.
  return { rules: [...notices, ...made.notices].map((notice) => notice.rule).filter((rule) => rule !== 'photo-tiny'), sizes: [...made.pictures.values()].flatMap((each) => each.renditions.map(({ width, height }) => [width, height])) };
}

describe('what else is in a photo file is said, and the still picture shown', () => {
  test('nothing, of a plain photo', async () => {
    expect(await told('a.jpg', await jpeg())).toEqual({ rules: [], sizes: [[60, 40]] });
  });

  test('a film behind a JPEG', async () => {
    expect(await told('a.jpg', Buffer.concat([await jpeg(), film]))).toEqual({ rules: ['photo-motion'], sizes: [[60, 40]] });
  });

  test('the word ftyp in the text beside a picture is no film', async () => {
    const bytes = await sharp(await jpeg()).withXmp('<x:xmpmeta xmlns:x="adobe:ns:meta/">ftypmp42</x:xmpmeta>').jpeg().toBuffer();
    expect((await told('a.jpg', Buffer.concat([bytes, Buffer.from('tail')]))).rules).toEqual([]);
  });

  test('a film in a HEIC', async () => {
    const heic = readFileSync(join(import.meta.dirname, '../print/heic/as-it-lies.heic'));
    expect(await told('a.heic', Buffer.concat([heic, box('mpvd', film)]))).toEqual({ rules: ['photo-motion'], sizes: [[96, 64]] });
  });

  test('a moving sequence', async () => {
    const heic = readFileSync(join(import.meta.dirname, '../print/heic/as-it-lies.heic'));
    expect((await told('a.heic', Buffer.concat([heic, box('moov', box('free', Buffer.alloc(40)))]))).rules).toContain('photo-animated');
  });
});

const corpus = corpusFolder();
if (corpus === null) {
  test('the corpus of real photos was left out: SILLBOOK_CORPUS names no folder', () => {
    expect(corpusIsRequired, 'on a build machine the corpus has to be there').toBe(false);
  });
} else {
  // By ExifTool 12.57: files with MPImageType "Undefined" and a gain map's XMP in the second picture, and those of type 02.
  test('real files: gain maps and pairs of pictures', async () => {
    const { notices } = await readPhotos(join(corpus, 'photos'));
    const of = (rule: string): (string | undefined)[] => notices.filter((notice) => notice.rule === rule).map((notice) => notice.spot?.file);
    expect(of('photo-gain-map')).toEqual(['formats/frame_size.mpo', 'formats/gain-map.jpg', 'formats/ultrahdr.jpg', 'ultra-hdr/Originals/Ultra_HDR_Samples_Originals_05.jpg', 'ultra-hdr/apple_gainmap_new.jpg', 'ultra-hdr/apple_gainmap_old.jpg']);
    expect(of('photo-animated')).toEqual(['formats/frozenpond.mpo', 'formats/ignore_frame_size.mpo', 'formats/sugarshack.mpo', 'formats/sugarshack_ifd_offset.mpo', 'formats/sugarshack_no_data.mpo']);
    expect(of('photo-motion')).toEqual([]);
  });
}
