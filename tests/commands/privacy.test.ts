import { cpSync, mkdirSync, readFileSync, readdirSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import exifr from 'exifr';
import sharp from 'sharp';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { scratch, sillbook } from './command-line.ts';
import { isPicture, metadataOf, piecesOf, strangeShare } from './published.ts';
import type { Piece } from './published.ts';

/*
 * What is claimed: nothing that a camera or a phone wrote of place, device and owner gets into anything published, and
 * areas marked `hide` are in no picture of it. What is not claimed: words. The findings are published as they were typed,
 * so a name, an address or a number plate in them is too, and the photos' file names, times, makers and models.
 */
let place = scratch();
beforeEach(() => {
  place.remove();
  place = scratch();
});
afterEach(() => place.remove());

/** Texts of what identifies in photos of a job: as they are stored, and as programs write a position. */
async function secretsOf(folders: readonly string[]): Promise<string[]> {
  const secrets = new Set<string>();
  for (const folder of folders) {
    for (const name of readdirSync(folder)) {
      const found = ((await exifr.parse(path.join(folder, name), { tiff: true, exif: true, gps: true, xmp: true, iptc: true, makerNote: true, mergeOutput: true }).catch(() => null)) ?? {}) as Record<string, unknown>;
      for (const key of ['SerialNumber', 'BodySerialNumber', 'LensSerialNumber', 'OwnerName', 'CameraOwnerName', 'Artist', 'Copyright', 'HostComputer', 'ImageUniqueID', 'creator', 'rights']) {
        const value = found[key];
        if (typeof value === 'string' && value.trim().length >= 4) secrets.add(value.trim());
      }
      for (const [axis, other] of [['latitude', 'GPSLatitude'], ['longitude', 'GPSLongitude']] as const) {
        const [decimal, parts] = [found[axis], found[other]];
        if (typeof decimal !== 'number' || !Array.isArray(parts)) continue;
        const [degrees = 0, minutes = 0, seconds = 0] = parts as number[];
        for (const text of [`${degrees}° ${minutes}`, `${degrees}°${minutes}`, `${degrees} deg ${minutes}`, `${degrees},${minutes},${seconds}`, `${degrees}/1 ${minutes}/1`, Math.abs(decimal).toFixed(4), Math.abs(decimal).toFixed(6)]) secrets.add(text);
        // As EXIF has it: three fractions of 32 bits, the first of them whole degrees.
        for (const write of ['writeUInt32BE', 'writeUInt32LE'] as const) {
          const raw = Buffer.alloc(16);
          for (const [index, number] of [degrees, 1, minutes, 1].entries()) raw[write](number, 4 * index);
          secrets.add(raw.toString('latin1'));
        }
      }
    }
  }
  return [...secrets];
}

/** Where a secret stands: as bytes, in UTF-8 and in UTF-16, which PDF uses for texts. */
function leaks(pieces: readonly Piece[], secrets: readonly string[]): string[] {
  return pieces.flatMap(({ at, bytes }) => secrets.flatMap((secret) => {
    const wide = Buffer.from(secret, 'utf16le');
    const forms = [Buffer.from(secret, 'latin1'), Buffer.from(secret, 'utf8'), wide, Buffer.from(wide).swap16()];
    return forms.some((form) => bytes.includes(form)) ? [`${JSON.stringify(secret)} in ${at}`] : [];
  }));
}

const tagNames = ['GPSLatitude', 'GPSLongitude', 'BodySerialNumber', 'LensSerialNumber', 'CameraOwnerName', 'HostComputer', 'MakerNote'];

async function expectNothingOf(folder: string, secrets: readonly string[]): Promise<Piece[]> {
  const pieces = piecesOf(folder);
  expect(leaks(pieces, [...secrets, ...tagNames])).toEqual([]);
  const pictures = pieces.filter(isPicture);
  for (const picture of pictures) expect(await metadataOf(picture), picture.at).toBeNull();
  return pictures;
}

test('nothing published of the sample, with both its visits, says where, with what or whose', { timeout: 300_000 }, async () => {
  const folders = ['2026-03-14', '2026-05-09'].map((visit) => path.resolve('sample-job', visit, 'photos'));
  const secrets = await secretsOf(folders);
  expect(secrets).toEqual(expect.arrayContaining(['Demo Owner', 'EX-000117', '53° 12']));
  const job = path.join(place.folder, 'sample');
  mkdirSync(job);
  for (const name of ['sillbook.json', '2026-03-14/findings.md', '2026-03-14/photos', '2026-05-09/findings.md', '2026-05-09/photos']) cpSync(path.join('sample-job', name), path.join(job, name), { recursive: true });
  // The scan finds them where they are.
  expect(leaks(piecesOf(job), secrets).length).toBeGreaterThan(10);
  const out = path.join(place.folder, 'out');
  const built = sillbook(['build', job, '--edition', 'history', '--one-file', '--any-size', '--pdf', 'data', '--out', out]);
  expect(built.code, built.err).toBe(0);
  const pictures = await expectNothingOf(out, secrets);
  for (const [what, file] of [['photos/', 'photos/'], ['one file', 'dossier-one-file.html, '], ['PDF', 'dossier.pdf, ']]) expect(pictures.filter(({ at }) => at.startsWith(file ?? '')).length, what).toBeGreaterThanOrEqual(27);
  const bag = path.join(place.folder, 'bag');
  const packed = sillbook(['pack', job, '--without-originals', '--to', bag]);
  expect(packed.code, packed.err).toBe(0);
  expect(await expectNothingOf(bag, secrets)).not.toEqual([]);
  expect(readdirSync(path.join(bag, 'data')).toSorted()).toEqual(['README.txt', 'dossiers']);
});

const exif = {
  IFD0: { Make: 'Acme', Model: 'One', Artist: 'Ferdinand Quillfeather', Copyright: '(c) F. Quillfeather', HostComputer: 'quillfeather-handset' },
  IFD2: { DateTimeOriginal: '2026:03:14 10:12:41', BodySerialNumber: 'ZQX-9944117', LensSerialNumber: 'LNS-5512093', CameraOwnerName: 'Quillfeather Estate', MakerNote: 'maker-note-77401', ImageUniqueID: 'abcdef0123456789aaaa5555ffff0000' },
  IFD3: { GPSLatitudeRef: 'N', GPSLatitude: '47/1 31/1 2219/100', GPSLongitudeRef: 'E', GPSLongitude: '13/1 44/1 1733/100' },
};
const xmp = '<?xpacket begin="" id="W5M0MpCehiHzreSzNTczkc9d"?><x:xmpmeta xmlns:x="adobe:ns:meta/"><rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#"><rdf:Description xmlns:aux="http://ns.adobe.com/exif/1.0/aux/" aux:OwnerName="Quillfeather In XMP" aux:SerialNumber="XMP-778812"/></rdf:RDF></x:xmpmeta><?xpacket end="w"?>';
const planted = ['Ferdinand Quillfeather', 'Quillfeather', 'quillfeather-handset', 'ZQX-9944117', 'LNS-5512093', 'maker-note-77401', 'abcdef0123456789aaaa5555ffff0000', 'XMP-778812', '47.5228', '13.7381'];

/** A grey photo with a chequer of magenta and green, x 20 to 60 % and y 30 to 70 %, and all that identifies in its metadata. */
async function tellTale(file: string, shade: number): Promise<void> {
  const [width, height] = [800, 600];
  const data = Buffer.alloc(width * height * 3, shade);
  for (let y = 180; y < 420; y += 1) for (let x = 160; x < 480; x += 1) data.set((x >> 5) % 2 === (y >> 5) % 2 ? [255, 0, 255] : [0, 255, 0], 3 * (y * width + x));
  mkdirSync(path.dirname(file), { recursive: true });
  await sharp(data, { raw: { width, height, channels: 3 } }).withExif(exif).withXmp(xmp).jpeg({ quality: 92 }).toFile(file);
}

/** Two visits of two photos each, one of them in a pair; with or without marks on what shows the chequer. */
async function markedJob(hide: boolean): Promise<string> {
  const job = path.join(place.folder, hide ? 'marked' : 'bare');
  const mark = hide ? '- hide 0.18 0.28 0.62 0.72: plate\n' : '';
  for (const [index, visit] of ['2026-03-14', '2026-05-09'].entries()) {
    for (const number of [1, 2]) await tellTale(path.join(job, visit, 'photos', `IMG_${index}${number}.jpg`), 60 + 40 * index + 9 * number);
    const car = '# Car\n- car: Test 1, two-door saloon\n- built: 1971\n- body: saloon\n';
    writeFileSync(path.join(job, visit, 'findings.md'), `${index === 0 ? car : ''}# Visit\n- seen: ${visit} 10:00-11:00, Europe/Dublin\n# Sill, left\n![plug, inner face 1: ${index === 0 ? 'missing' : 'in place'}](IMG_${index}1.jpg)\n${mark}\n![plug, inner face 2: sound. pressed](IMG_${index}2.jpg)\n${mark}`);
  }
  return job;
}

test('hidden areas of photos of every visit are in no picture of anything published, and neither is what identifies', { timeout: 400_000 }, async () => {
  const job = await markedJob(true);
  const folders = ['2026-03-14', '2026-05-09'].map((visit) => path.join(job, visit, 'photos'));
  const secrets = [...new Set([...planted, ...(await secretsOf(folders))])];
  const original = readFileSync(path.join(folders[0] ?? '', 'IMG_01.jpg'));
  for (const secret of ['Ferdinand Quillfeather', 'ZQX-9944117', 'XMP-778812']) expect(original.includes(secret), secret).toBe(true);
  expect(await strangeShare({ at: 'original', bytes: original })).toBeGreaterThan(0.15);
  for (const [edition, pdf] of [['history', 'share'], ['progress', 'data']] as const) {
    const out = path.join(place.folder, edition);
    const built = sillbook(['build', job, '--edition', edition, '--one-file', '--pdf', pdf, '--out', out]);
    expect(built.code, built.err).toBe(0);
    const pictures = await expectNothingOf(out, secrets);
    for (const within of ['photos/', 'dossier-one-file.html, ', 'dossier.pdf, ']) expect(pictures.filter(({ at }) => at.startsWith(within)).length, `${edition}: ${within}`).toBeGreaterThanOrEqual(edition === 'history' ? 4 : 2);
    for (const picture of pictures) expect(await strangeShare(picture), `${edition}: ${picture.at}`).toBe(0);
  }
  const bag = path.join(place.folder, 'bag');
  const packed = sillbook(['pack', job, '--without-originals', '--editions', 'purchase,history', '--to', bag]);
  expect(packed.code, packed.err).toBe(0);
  for (const picture of await expectNothingOf(bag, secrets)) expect(await strangeShare(picture), picture.at).toBe(0);
  // Without the marks the same pictures show it: the look at the pixels would have found it.
  const bare = await markedJob(false);
  const shown = path.join(place.folder, 'shown');
  expect(sillbook(['build', bare, '--edition', 'history', '--one-file', '--pdf', 'share', '--out', shown]).code).toBe(0);
  const seen = await Promise.all(piecesOf(shown).filter(isPicture).map(async (picture) => ({ at: picture.at, share: await strangeShare(picture) })));
  for (const within of ['photos/', 'dossier-one-file.html, ', 'dossier.pdf, ']) expect(Math.max(...seen.filter(({ at }) => at.startsWith(within)).map(({ share }) => share)), within).toBeGreaterThan(0.1);
});
