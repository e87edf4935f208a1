import { execFileSync, spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { cpSync, existsSync, mkdirSync, readFileSync, readdirSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { dossierSchema } from '../../src/model/dossier.ts';
import type { Dossier } from '../../src/model/dossier.ts';
import { scratch, sillbook } from '../commands/command-line.ts';
import type { Ran } from '../commands/command-line.ts';
import { poppler } from '../print/pdf/tools.ts';
import { corpusFolder, corpusIsRequired } from './corpus.ts';

/** Photos as cameras and phones wrote them, with position, owner and serial numbers in them. Paths below the corpus' `photos`. */
const originals = [
  'cameras/Apple/iPhone XR/IMG_3578.HEIC', 'cameras/Apple/iPhone XR/IMG_3579.HEIC', 'cameras/Apple/iPhone XR/IMG_3580.JPG', 'cameras/Apple/iPhone XR/IMG_3581.JPG',
  'cameras/Canon/EOS5D-MIII/_K6A7945.JPG', 'cameras/Canon/PowerShot G6/IMG_0002.JPG', 'cameras/Canon/Rebel XT 350D/_MG_9380.JPG', 'cameras/Kodak/DC210/DCIMAGES/DCP15614.JPG',
  'cameras/Olympus/C-3000/P1010006.JPG', 'cameras/Sony/DSC-P5/100MSDCF/DSC00002.JPG', 'cameras/Sony/FD100/Untitled/MVC-003F.JPG', 'cameras/Sony/SLT-A57/_DSC8830.JPG',
  'ultra-hdr/Originals/Ultra_HDR_Samples_Originals_05.jpg', 'ultra-hdr/apple_gainmap_new.jpg', 'orientation/Landscape_0.jpg', 'orientation/Landscape_6.jpg', 'orientation/Portrait_5.jpg', 'orientation/Portrait_8.jpg',
  'heif/heif/zPug_3.heic', 'heif/heif/RGB_10__128x128.heif', 'heif/heif_other/L_exif_xmp_iptc.heic', 'heif/heif_other/empty_icc.heic',
  'formats/ultrahdr.jpg', 'formats/xmp_test.jpg', 'metadata/IPTC-PhotometadataRef-Std2021.1.jpg', 'formats/Channel_digital_image_CMYK_color.jpg',
];

const findings = `# Car
- car: Larkfield 1500, two-door saloon
- body: saloon
# Visit
- seen: 2026-03-14 10:00-11:45, Europe/Dublin
# Sill, left
![plug, inner face 2: missing. rust run below](IMG_3580.JPG)
- metal inside, middle: scaling. seen through inner face 2. IMG_3578
- plug, inner face 1: cracked. Landscape_6
- not seen: rear third. cover strip fitted. to see it: drill out 14 rivets, 1 h
`;

/** Tags nobody may find in what is handed on, by ExifTool's names. */
const privateTags = ['GPS*', 'SerialNumber', 'InternalSerialNumber', 'LensSerialNumber', 'BodySerialNumber', 'CameraSerialNumber', 'OwnerName', 'CameraOwnerName', 'Artist', 'Creator', 'By-line', 'ImageUniqueID'];

/** What ExifTool reads, or null where it is not installed, which is said; in CI, which installs it, that is a failure. */
function exiftool(args: readonly string[]): Record<string, string>[] | null {
  const ran = spawnSync('exiftool', ['-j', '-m', '-q', ...args], { encoding: 'utf8', maxBuffer: 1 << 28 });
  if (!ran.error) return ran.stdout.trim() === '' ? [] : (JSON.parse(ran.stdout) as Record<string, string>[]);
  if (process.env['CI'] === 'true') throw ran.error;
  console.warn('exiftool is not installed: what it would find in the published files was not checked');
  return null;
}

function filesIn(folder: string): string[] {
  return readdirSync(folder, { recursive: true, withFileTypes: true }).filter((entry) => entry.isFile()).map((entry) => path.join(entry.parentPath, entry.name)).toSorted();
}

const folder = corpusFolder();
if (folder === null) {
  test('the job of real photos was left out: SILLBOOK_CORPUS names no folder', () => {
    expect(corpusIsRequired, 'on a build machine the corpus has to be there').toBe(false);
  });
} else {
  describe('a job of real photos', () => {
    const place = scratch();
    const job = path.join(place.folder, 'job');
    const out = path.join(job, 'out');
    let ran: Ran;
    let dossier: Dossier;
    beforeAll(() => {
      for (const name of originals) {
        const to = path.join(job, 'photos', name);
        mkdirSync(path.dirname(to), { recursive: true });
        cpSync(path.join(folder, 'photos', name), to);
      }
      writeFileSync(path.join(job, 'findings.md'), findings);
      ran = sillbook(['build', job, '--all']);
      dossier = dossierSchema.parse(JSON.parse(readFileSync(path.join(out, 'dossier.json'), 'utf8')));
    }, 60_000);
    afterAll(() => place.remove());

    test('builds, and lists every photo with its hash', () => {
      expect(ran.code, ran.err).toBe(0);
      const listed = dossier.photos.map(({ file, sha256, bytes }) => ({ file, sha256, bytes }));
      const wanted = originals.map((name) => {
        const bytes = readFileSync(path.join(folder, 'photos', name));
        return { file: `photos/${name}`, sha256: createHash('sha256').update(bytes).digest('hex'), bytes: bytes.length };
      });
      expect(listed.toSorted((a, b) => (a.file < b.file ? -1 : 1))).toEqual(wanted.toSorted((a, b) => (a.file < b.file ? -1 : 1)));
      // Reference reader: GNU coreutils.
      expect(spawnSync('sha256sum', ['-c', '--strict', '--quiet', path.join('out', 'originals-sha256.txt')], { cwd: job, encoding: 'utf8' })).toMatchObject({ status: 0, stdout: '' });
    });

    test('every photo is shown, or it is said why not', () => {
      expect(dossier.photos.filter((photo) => photo.renditions.length === 0 && photo.flaw === '').map((photo) => photo.file)).toEqual([]);
      const pages = filesIn(out).filter((file) => file.endsWith('.html')).map((file) => readFileSync(file, 'utf8')).join('\n');
      for (const photo of dossier.photos) {
        for (const { file } of photo.renditions) expect(existsSync(path.join(out, file)), file).toBe(true);
        if (photo.renditions.length > 0) expect(pages, photo.file).toContain(path.basename(photo.renditions.at(-1)?.file ?? 'none'));
        else expect(pages, photo.file).toContain(photo.flaw);
      }
      expect(dossier.photos.filter((photo) => photo.renditions.length === 0).map((photo) => photo.file)).toEqual([]);
    });

    test('the times are those the cameras wrote', () => {
      const taken = (name: string): string | null => dossier.photos.find((photo) => photo.file.endsWith(name))?.taken ?? null;
      // ExifTool 12.57 (expected-exif.tsv): no date where the camera wrote zeros.
      expect(taken('Olympus/C-3000/P1010006.JPG')).toBeNull();
      expect(taken('iPhone XR/IMG_3580.JPG')).toContain('UTC-06:00');
    });

    test('no picture handed on carries anything but pixels', () => {
      const found = exiftool(['-G1', '-a', '-u', '-r', path.join(out, 'photos')]);
      if (found === null) return;
      expect(found.length).toBe(filesIn(path.join(out, 'photos')).length);
      expect(found.length).toBeGreaterThan(originals.length);
      const groups = new Set(found.flatMap((one) => Object.keys(one).filter((key) => key.includes(':')).map((key) => key.split(':')[0])));
      expect([...groups].filter((group) => !['ExifTool', 'System', 'File', 'JFIF', 'Composite'].includes(group ?? ''))).toEqual([]);
    });

    test('nothing handed on carries position, owner or serial number', () => {
      const tags = privateTags.map((tag) => `-${tag}`);
      const inside = exiftool([...tags, '-r', path.join(job, 'photos')]);
      const published = exiftool([...tags, '-r', out]);
      if (inside === null || published === null) return;
      const secrets = new Set(inside.flatMap(({ SourceFile: _file, ...values }) => Object.values(values).map(String)).filter((value) => value.length > 5 && !/^0+$/.test(value) && value !== 'unknown'));
      // The originals do carry them, or this would show nothing.
      for (const known of ['302022000566', 'Elizabeth Hall', '0808c22266', '46 deg 45\' 16.93" N']) expect([...secrets].some((secret) => secret.includes(known)), known).toBe(true);
      // The creator of the PDF is who made the dossier.
      const left = published.flatMap(({ SourceFile: file, ...values }) => Object.entries(values).filter(([tag]) => tag !== 'Creator' || !file?.endsWith('dossier.pdf')).map(([tag, value]) => `${file} ${tag}: ${value}`));
      expect(left).toEqual([]);
      const text = poppler('pdftotext', [path.join(out, 'dossier.pdf'), '-'])?.toString('utf8') ?? '';
      const files = filesIn(out).map((file) => ({ file: path.relative(out, file), content: readFileSync(file, 'latin1') }));
      for (const { file, content } of [...files, { file: 'text of dossier.pdf', content: text }]) {
        expect([...secrets].filter((secret) => content.includes(secret)), file).toEqual([]);
      }
    });

    test('the pictures in the PDF are those delivered, without metadata of their own', () => {
      const listed = poppler('pdfimages', ['-list', path.join(out, 'dossier.pdf')])?.toString('utf8');
      if (listed === undefined) return;
      expect(listed.split('\n').filter((row) => /\bjpeg\b/.test(row)).length).toBeGreaterThan(15);
      const made = path.join(place.folder, 'pdf-pictures');
      mkdirSync(made);
      execFileSync('pdfimages', ['-all', path.join(out, 'dossier.pdf'), path.join(made, 'p')]);
      const found = exiftool(['-G1', '-a', '-u', '-r', made]) ?? [];
      const groups = new Set(found.flatMap((one) => Object.keys(one).filter((key) => key.includes(':')).map((key) => key.split(':')[0])));
      expect([...groups].filter((group) => !['ExifTool', 'System', 'File', 'JFIF', 'Composite'].includes(group ?? ''))).toEqual([]);
    });
  });
}
