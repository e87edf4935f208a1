import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readFileSync, readdirSync, symlinkSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import sharp from 'sharp';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { corpusFolder, corpusIsRequired } from '../corpus/corpus.ts';
import { notesOf } from '../read/notes-helper.ts';
import { scratch, sillbook } from './command-line.ts';

let place = scratch();
beforeEach(() => {
  place.remove();
  place = scratch();
});
afterEach(() => place.remove());

/** Red, green, blue and white quarters, clockwise from the top left as the upright picture has them. */
const quarters = ['#c00000', '#00a000', '#0000c0', '#f0f0f0'] as const;

/** Stores a picture so that only a reader that heeds its orientation tag shows it upright. */
async function quartered(file: string, orientation: number): Promise<void> {
  const [red, green, blue, white] = quarters;
  const svg = `<svg xmlns="http://www.w3.org/2000/svg" width="400" height="300"><rect width="200" height="150" fill="${red}"/><rect x="200" width="200" height="150" fill="${green}"/><rect x="200" y="150" width="200" height="150" fill="${blue}"/><rect y="150" width="200" height="150" fill="${white}"/></svg>`;
  const upright = await sharp(Buffer.from(svg)).removeAlpha().png().toBuffer();
  // EXIF 2.32, tag 274: how the stored rows and columns have to be turned; here the other way round, one turn at a time.
  const mirrored = [2, 4, 5, 7].includes(orientation);
  const degrees = [0, 0, 180, 180, 90, 270, 270, 90][orientation - 1] ?? 0;
  const turned = await sharp(upright).rotate(degrees).png().toBuffer();
  const stored = mirrored ? await sharp(turned).flop().png().toBuffer() : turned;
  await sharp(stored).withExif({ IFD0: { Make: 'Maker' }, IFD3: { GPSLatitudeRef: 'N', GPSLatitude: '53/1 20/1 0/1' } }).withMetadata({ orientation }).jpeg({ quality: 95 }).toFile(file);
}

/** Width of the band with the ruler round the photo. */
const band = 104;

/** Pixels of the photo without the ruler around it. */
async function photoOf(file: string): Promise<{ data: Buffer; info: { width: number; height: number } }> {
  const { width = 0, height = 0 } = await sharp(file).metadata();
  return sharp(file).extract({ left: band, top: band, width: width - 2 * band, height: height - 2 * band }).removeAlpha().raw().toBuffer({ resolveWithObject: true });
}

/** Colours at fractions of the photo, as the nearest of the four. */
async function colours(file: string, at: readonly (readonly [number, number])[]): Promise<string[]> {
  const { data, info } = await photoOf(file);
  return at.map(([x, y]) => {
    const from = (Math.floor(y * info.height) * info.width + Math.floor(x * info.width)) * 3;
    const away = quarters.map((colour) => [1, 3, 5].reduce((sum, digit, channel) => sum + Math.abs(Number.parseInt(colour.slice(digit, digit + 2), 16) - (data[from + channel] ?? 0)), 0));
    return quarters[away.indexOf(Math.min(...away))] ?? '';
  });
}

function photoIn(folder: string, name = 'IMG_1.jpg'): string {
  mkdirSync(path.join(folder, 'photos'), { recursive: true });
  return path.join(folder, 'photos', name);
}

test('the grid lies over the upright photo, whatever its orientation tag, and the photo stays as it was', async () => {
  for (const orientation of [1, 2, 3, 4, 5, 6, 7, 8]) {
    const photo = photoIn(place.folder, `IMG_${orientation}.jpg`);
    await quartered(photo, orientation);
    const before = createHash('sha256').update(readFileSync(photo)).digest('hex');
    const ran = sillbook(['grid', photo], { cwd: place.folder });
    expect(ran.code, ran.err).toBe(0);
    const out = path.join(place.folder, `IMG_${orientation}-grid.png`);
    const facts = await sharp(out).metadata();
    expect([facts.format, facts.width, facts.height, facts.exif], String(orientation)).toEqual(['png', 1600 + 2 * band, 1200 + 2 * band, undefined]);
    // Middles of cells of the grid, where nothing is drawn over the photo.
    expect(await colours(out, [[0.01, 0.01], [0.99, 0.01], [0.99, 0.99], [0.01, 0.99]]), String(orientation)).toEqual([...quarters]);
    expect(createHash('sha256').update(readFileSync(photo)).digest('hex')).toBe(before);
  }
  expect(readdirSync(path.join(place.folder, 'photos'))).toHaveLength(8);
});

test('a region is cut out with a little around it, and its points are where the line says', async () => {
  const photo = photoIn(place.folder);
  await quartered(photo, 6);
  const out = path.join(place.folder, 'cut.png');
  const ran = sillbook(['grid', photo, '--region', '0.5', '0.5', '1', '1', '--points', '25', '--out', out]);
  expect(ran.code, ran.err).toBe(0);
  expect(ran.out).toContain('- rusted points 0.5 0.5 1 1: ?? of 25\n');
  // 4 % of the region left of it and above it; none to its right, where the photo ends.
  expect(await colours(out, [[0.01, 0.01], [0.99, 0.01], [0.99, 0.99], [0.01, 0.99], [0.06, 0.06]])).toEqual([...quarters, quarters[2]]);
});

test('every point is drawn: an open cross with its middle left free', async () => {
  const photo = photoIn(place.folder);
  await sharp({ create: { width: 1600, height: 1600, channels: 3, background: '#808080' } }).png().toFile(photo.replace('.jpg', '.png'));
  const out = path.join(place.folder, 'plain.png');
  expect(sillbook(['grid', photo.replace('.jpg', '.png'), '--out', out]).code).toBe(0);
  const { data, info } = await photoOf(out);
  const at = (x: number, y: number): number => data[(Math.round(y) * info.width + Math.round(x)) * 3] ?? 0;
  for (let row = 0; row < 10; row += 1) {
    for (let column = 0; column < 10; column += 1) {
      const [x, y] = [80 + 160 * column, 80 + 160 * row];
      expect(at(x, y)).toBe(128);
      for (const [across, down] of [[15, 0], [-15, 0], [0, 15], [0, -15]] as const) expect(at(x + across, y + down), `${row} ${column}`).toBeGreaterThan(220);
    }
  }
});

test('the same photo gives the same bytes', async () => {
  const photo = photoIn(place.folder);
  await quartered(photo, 1);
  const made = ['a.png', 'b.png'].map((name) => {
    expect(sillbook(['grid', photo, '--out', path.join(place.folder, name)], { env: { TZ: 'Pacific/Chatham', LANG: 'tr_TR.UTF-8' } }).code).toBe(0);
    return readFileSync(path.join(place.folder, name)).toString('base64');
  });
  expect(made[0]).toBe(made[1]);
});

test('the line goes into the findings; until it is counted it is asked back, and the suggestion is no part of it', async () => {
  const photo = photoIn(place.folder);
  const rust = '<svg xmlns="http://www.w3.org/2000/svg" width="1000" height="800"><rect width="1000" height="800" fill="#3a6a78"/><rect width="340" height="800" fill="#8a4a22"/></svg>';
  await sharp(Buffer.from(rust)).jpeg().toFile(photo);
  const ran = sillbook(['grid', photo, '--region', '0 0 1 1'], { cwd: place.folder });
  const line = /^- rusted points .*$/m.exec(ran.out)?.[0] ?? '';
  expect(line).toBe('- rusted points 0 0 1 1: ?? of 100');
  // Three of ten columns have their middles on the left 34 %.
  expect(ran.err).toMatch(/A suggestion, not a measurement: a rule of colour would say about 30 of 100; count yourself/);
  expect(ran.out.split('\n').slice(1).join()).not.toMatch(/30|colour/);
  const read = (text: string): string[] => notesOf(`# Sill, left\n![metal: surface rust](IMG_1.jpg)\n${text}\n`).notices.map(({ rule }) => rule);
  expect(read(line)).toEqual(['rusted-points-unclear']);
  expect(read(line.replace('??', '30'))).toEqual([]);
});

test('never over another file, among the photos, in a job or in a dossier', async () => {
  const job = path.join(place.folder, 'job');
  const photo = photoIn(job);
  await quartered(photo, 1);
  mkdirSync(path.join(job, 'photos', 'sill'));
  mkdirSync(path.join(place.folder, 'dossier', 'photos'), { recursive: true });
  writeFileSync(path.join(place.folder, 'dossier', 'dossier.json'), '{}');
  writeFileSync(path.join(place.folder, 'mine.png'), 'mine');
  symlinkSync(path.join(place.folder, 'nowhere'), path.join(place.folder, 'link.png'));
  symlinkSync(path.join(job, 'photos'), path.join(place.folder, 'shortcut'));
  const refused = (out: string, says: RegExp): void => {
    const ran = sillbook(['grid', photo, '--out', path.join(place.folder, out)]);
    expect(ran, out).toMatchObject({ code: 2, out: '' });
    expect(ran.err, out).toMatch(says);
  };
  refused('job/photos/grid.png', /among the photos/);
  refused('job/photos/sill/grid.png', /among the photos/);
  refused('shortcut/grid.png', /among the photos/);
  refused('mine.png', /not overwritten/);
  refused('link.png', /not overwritten/);
  refused('dossier/photos/grid.png', /is a dossier/);
  refused('grid.jpg', /end in \.png/);
  refused('not-there/grid.png', /no folder/);
  writeFileSync(path.join(job, 'findings.md'), '');
  refused('job/grid.png', /is a job/);
  expect(readFileSync(path.join(place.folder, 'mine.png'), 'utf8')).toBe('mine');
  expect(existsSync(path.join(place.folder, 'nowhere'))).toBe(false);
  expect(readdirSync(path.join(job, 'photos')).toSorted()).toEqual(['IMG_1.jpg', 'sill']);
});

test('in a job it goes beside the photos under a name still free, is told with its whole path, and is no photo of the job', async () => {
  const job = path.join(place.folder, 'job');
  const photo = photoIn(job);
  await quartered(photo, 1);
  writeFileSync(path.join(job, 'findings.md'), '# Car\n- body: saloon\n# Sill, left\n![plug: missing](IMG_1.jpg)\n');
  for (const name of ['IMG_1-grid.png', 'IMG_1-grid-2.png']) {
    const ran = sillbook(['grid', 'IMG_1.jpg'], { cwd: path.join(job, 'photos') });
    expect(ran.code, ran.err).toBe(0);
    expect(ran.out.split(':')[0]).toMatch(new RegExp(`^/.*/job/grids/${name}$`));
  }
  expect(readdirSync(path.join(job, 'grids')).toSorted()).toEqual(['IMG_1-grid-2.png', 'IMG_1-grid.png']);
  // A picture of somebody's own in that folder is a photo.
  await sharp({ create: { width: 500, height: 500, channels: 3, background: '#808080' } }).png().toFile(path.join(job, 'grids', 'mine.png'));
  const checked = JSON.parse(sillbook(['check', job, '--json']).out) as { photos: { file: string }[] };
  expect(checked.photos.map(({ file }) => file)).toEqual(['grids/mine.png', 'photos/IMG_1.jpg']);
});

test('a ruler of tenths stands round the whole photo, of finer steps round a region of it', async () => {
  const photo = photoIn(place.folder);
  await sharp({ create: { width: 1600, height: 1200, channels: 3, background: '#808080' } }).jpeg().toFile(photo);
  /** Where white ticks stand right below the photo, as fractions of its width. */
  const ticks = async (...args: string[]): Promise<number[]> => {
    const out = path.join(place.folder, `${args.length}.png`);
    expect(sillbook(['grid', photo, '--out', out, ...args]).code).toBe(0);
    const { data, info } = await sharp(out).removeAlpha().raw().toBuffer({ resolveWithObject: true });
    const row = info.height - band + 8;
    const white = Array.from({ length: info.width }, (_, x) => (data[(row * info.width + x) * 3] ?? 0) > 200);
    return white.flatMap((is, x) => (is && !white[x - 1] ? [Number(((x - band + 1.5) / (info.width - 2 * band)).toFixed(2))] : []));
  };
  expect(await ticks()).toEqual([0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9]);
  // From 0.4 to 0.6 with a margin of 4 % of it on each side: 0.392 to 0.608, twenty-one hundredths, in steps of five.
  expect(await ticks('--region', '0.4 0.4 0.6 0.6')).toEqual([0.4, 0.45, 0.5, 0.55, 0.6].map((at) => Number(((at - 0.392) / 0.216).toFixed(2))));
});

test.each([
  [[], /needs a photo/],
  [['a.jpg', 'b.jpg'], /one photo, but got 2/],
  [['nothing.jpg'], /There is no nothing\.jpg/],
  [['src'], /is no file/],
  [['package.json'], /not a picture/],
  [['sample-job/2026-03-14/photos/IMG_4021.jpg', '--points', '99'], /"99" is no number of points/],
  [['sample-job/2026-03-14/photos/IMG_4021.jpg', '--points', '9'], /25 to 400/],
  [['sample-job/2026-03-14/photos/IMG_4021.jpg', '--points', 'many'], /"many"/],
  [['sample-job/2026-03-14/photos/IMG_4021.jpg', '--region', '0.1', '0.2', '0.3'], /"0\.1 0\.2 0\.3" is no region/],
  [['sample-job/2026-03-14/photos/IMG_4021.jpg', '--region', '10', '10', '90', '80'], /not within 0 and 1/],
  [['sample-job/2026-03-14/photos/IMG_4021.jpg', '--region', '0.1', '-0.1', '0.9', '0.8'], /no region|not within/],
  [['sample-job/2026-03-14/photos/IMG_4021.jpg', '--region', '0.1', '0.1', '0.1', '0.8'], /no area/],
  [['sample-job/2026-03-14/photos/IMG_4021.jpg', '--bogus'], /Unknown option/],
] as [string[], RegExp][])('wrong use: %j', (args, says) => {
  const ran = sillbook(['grid', ...args]);
  expect(ran).toMatchObject({ code: 2, out: '' });
  expect(ran.err).toMatch(says);
  expect(ran.err).not.toMatch(/\n\s+at /);
});

test('help has an example and names the method', () => {
  const ran = sillbook(['grid', '--help']);
  expect(ran.code).toBe(0);
  expect(ran.out).toMatch(/ASTM E562[\s\S]*Example\n/);
  expect(sillbook(['--help']).out).toContain('sillbook grid');
});

test('a picture in name only, one that cannot be decoded, a damaged one', async () => {
  const photo = photoIn(place.folder, 'words.jpg');
  writeFileSync(photo, '<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"/>');
  expect(sillbook(['grid', photo], { cwd: place.folder })).toMatchObject({ code: 2 });
  const whole = readFileSync('sample-job/2026-03-14/photos/IMG_4022.jpg');
  const head = photoIn(place.folder, 'head.jpg');
  writeFileSync(head, whole.subarray(0, 300));
  const none = sillbook(['grid', head], { cwd: place.folder });
  expect(none).toMatchObject({ code: 1, out: '' });
  expect(none.err).toMatch(/No grid was drawn .* cannot be decoded/);
  expect(existsSync(path.join(place.folder, 'head-grid.png'))).toBe(false);
  const half = photoIn(place.folder, 'half.jpg');
  writeFileSync(half, whole.subarray(0, whole.length / 2));
  const drawn = sillbook(['grid', half], { cwd: place.folder });
  expect(drawn.code, drawn.err).toBe(0);
  expect(drawn.err).toContain('The photo is damaged');
});

test('grey, transparent and 16-bit pictures', async () => {
  const svg = Buffer.from('<svg xmlns="http://www.w3.org/2000/svg" width="60" height="40"><rect width="30" height="40" fill="#777777"/></svg>');
  const files = { 'grey.jpg': sharp(svg).flatten().toColourspace('b-w').jpeg(), 'clear.png': sharp(svg).png(), 'deep.png': sharp(svg).toColourspace('rgb16').png(), 'grey16.tif': sharp(svg).flatten().toColourspace('grey16').tiff(), 'clear.webp': sharp(svg).webp(), 'inks.jpg': sharp(svg).flatten().toColourspace('cmyk').jpeg() };
  for (const [name, image] of Object.entries(files)) {
    const photo = photoIn(place.folder, name);
    await image.toFile(photo);
    const out = path.join(place.folder, `${name}.png`);
    const ran = sillbook(['grid', photo, '--out', out]);
    expect(ran.code, `${name} ${ran.err}`).toBe(0);
    expect((await photoOf(out)).info.width, name).toBe(1600);
  }
});

test('HEIC as phones make it', { timeout: 60_000 }, async () => {
  const folder = corpusFolder();
  if (folder === null && corpusIsRequired) throw new Error('the corpus is missing');
  if (folder === null) return;
  const name = readdirSync(path.join(folder, 'photos'), { recursive: true, encoding: 'utf8' }).filter((one) => /\.heic$/i.test(one)).toSorted()[0] ?? '';
  expect(name).not.toBe('');
  const ran = sillbook(['grid', path.join(folder, 'photos', name), '--out', path.join(place.folder, 'phone.png')]);
  expect(ran.code, ran.err).toBe(0);
  expect(Math.max((await sharp(path.join(place.folder, 'phone.png')).metadata()).width, 0)).toBeGreaterThanOrEqual(1000);
});
