import path from 'node:path';
import sharp from 'sharp';
import { expect, test } from 'vitest';
import type { Corner, Region } from '../../src/model/rusted-area.ts';
import { gridPoints, rustedByOutlines, rustedByPoints, wholePicture } from '../../src/model/rusted-area.ts';
import { wilson95 } from '../../src/model/wilson.ts';

/** Rusted pixels of a picture. */
interface Mask {
  rusted: Uint8Array;
  width: number;
  height: number;
}

async function maskOf(file: string | Buffer): Promise<Mask> {
  const { data, info } = await sharp(file).extractChannel(0).raw().toBuffer({ resolveWithObject: true });
  return { rusted: data.map((one) => (one > 127 ? 1 : 0)), width: info.width, height: info.height };
}

/** Share of a region by every pixel of it, in percent. */
function truePercent({ rusted, width, height }: Mask, [left, top, right, bottom]: Region = wholePicture): number {
  let [hits, all] = [0, 0];
  for (let y = Math.round(top * height); y < Math.round(bottom * height); y += 1) {
    for (let x = Math.round(left * width); x < Math.round(right * width); x += 1, all += 1) hits += rusted[y * width + x] ?? 0;
  }
  return (100 * hits) / all;
}

/** Points of a grid that lie on rust, the grid shifted by parts of a cell. */
function hitsOf({ rusted, width, height }: Mask, region: Region, side: number, [across, down]: Corner = [0, 0]): number {
  const [left, top, right, bottom] = region;
  return gridPoints(region, side).filter(([x, y]) => {
    const [column, row] = [Math.floor((x + (across * (right - left)) / side) * width), Math.floor((y + (down * (bottom - top)) / side) * height)];
    return rusted[Math.min(height - 1, row) * width + Math.min(width - 1, column)] === 1;
  }).length;
}

/** Numbers from 0 to 1, the same in every run: mulberry32, public domain. */
function chance(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  };
}

// Source: the program that rendered the sample's photos, see rusted-area/README.md beside this file.
test.each([['IMG_4022', 13.2], ['IMG_4034', 11.9], ['SC_0007', 22.7]])('%s, %d %% rusted: the point count and its interval', async (name, given) => {
  const mask = await maskOf(path.join(import.meta.dirname, 'rusted-area', `${name}.png`));
  const truth = truePercent(mask);
  expect(Number(truth.toFixed(1))).toBe(given);
  for (const side of [10, 15, 20]) {
    const found = rustedByPoints(wholePicture, hitsOf(mask, wholePicture, side), side * side);
    if (found?.how !== 'points') throw new Error('no count');
    expect(truth, `${side} × ${side}`).toBeGreaterThanOrEqual(found.lowPercent);
    expect(truth, `${side} × ${side}`).toBeLessThanOrEqual(found.highPercent);
  }
  // Wherever the grid may lie: 8 × 8 shifts by parts of a cell.
  const shifts = Array.from({ length: 64 }, (_, index): Corner => [(index % 8) / 8 - 0.5, Math.floor(index / 8) / 8 - 0.5]);
  const counts = shifts.map((shift) => hitsOf(mask, wholePicture, 10, shift));
  const held = counts.filter((hits) => holds(hits, 100, truth)).length;
  expect(held).toBeGreaterThanOrEqual(61);
  const miss = counts.reduce((sum, hits) => sum + Math.abs(hits - truth), 0) / counts.length;
  // 2.7 points of percent on 205 labelled public pictures, our measurement.
  expect(miss).toBeLessThan(2.7);
});

function holds(hits: number, points: number, truth: number): boolean {
  const found = wilson95(hits, points);
  return found !== null && truth >= found.lowPercent && truth <= found.highPercent;
}

// Source: Newcombe 1998, Statistics in Medicine 17:857, Table I, method 3, from memory: 15 of 148, 0.0624 to 0.1605; 1 of 29,
// 0.0061 to 0.1718. Fagerland, Lydersen, Laake 2017, Statistical Analysis of Contingency Tables, chapter 2: 13 of 16, 0.5699
// to 0.9341 (read in the tests of its companion program).
test.each([[15, 148, 6.24, 16.05], [1, 29, 0.61, 17.18], [13, 16, 56.99, 93.41]])('%d of %d points: %d to %d %%', (hits, points, low, high) => {
  const found = wilson95(hits, points);
  expect([found?.lowPercent, found?.highPercent].map((one) => Number(one?.toFixed(2)))).toEqual([low, high]);
});

// Source: that an interval of 95 % holds the truth 95 times in 100, checked by drawing; the score interval keeps it on
// average over shares, not for each (Brown, Cai, DasGupta 2001, Statistical Science 16:101, from memory).
test('points thrown at random: the interval holds the share 95 times in 100', () => {
  const next = chance(20260314);
  let [held, least] = [0, 1];
  const shares = Array.from({ length: 40 }, () => 0.01 + 0.98 * next());
  for (const share of shares) {
    let own = 0;
    for (let run = 0; run < 1000; run += 1) {
      let hits = 0;
      for (let point = 0; point < 100; point += 1) if (next() < share) hits += 1;
      if (holds(hits, 100, 100 * share)) own += 1;
    }
    held += own;
    least = Math.min(least, own / 1000);
  }
  expect(held / 40_000).toBeGreaterThan(0.94);
  expect(held / 40_000).toBeLessThan(0.965);
  expect(least).toBeGreaterThan(0.9);
});

test('an even grid laid anywhere over patches: the interval holds the share at least as often', async () => {
  const next = chance(7);
  let [held, runs] = [0, 0];
  for (let picture = 0; picture < 12; picture += 1) {
    const patches = Array.from({ length: 3 + Math.floor(next() * 12) }, () => `<ellipse cx="${400 * next()}" cy="${300 * next()}" rx="${10 + 60 * next()}" ry="${10 + 50 * next()}" fill="white"/>`);
    const mask = await maskOf(Buffer.from(`<svg xmlns="http://www.w3.org/2000/svg" width="400" height="300"><rect width="400" height="300"/>${patches.join('')}</svg>`));
    const truth = truePercent(mask);
    for (let lay = 0; lay < 100; lay += 1, runs += 1) if (holds(hitsOf(mask, wholePicture, 10, [next() - 0.5, next() - 0.5]), 100, truth)) held += 1;
  }
  expect(held / runs).toBeGreaterThan(0.95);
});

test('a painted share is counted exactly: point by point, and pixel by pixel within an outline', async () => {
  // 34 of 100 cells of a region painted, one by one: the grid hits those and no other.
  const cells = Array.from({ length: 34 }, (_, index) => (index * 37) % 100);
  const region: Region = [0.1, 0.1, 0.9, 0.8];
  const painted = cells.map((cell) => `<rect x="${100 + 80 * (cell % 10)}" y="${100 + 70 * Math.floor(cell / 10)}" width="80" height="70" fill="white"/>`);
  const mask = await maskOf(svg(painted.join('')));
  expect(truePercent(mask, region)).toBeCloseTo(34, 6);
  expect(hitsOf(mask, region, 10)).toBe(34);
  const outlines: Corner[][] = [[[0.15, 0.2], [0.4, 0.15], [0.45, 0.5], [0.3, 0.35], [0.2, 0.6]], [[0.35, 0.3], [0.8, 0.25], [0.6, 0.7]]];
  const drawn = await maskOf(svg(outlines.map((corners) => `<polygon points="${corners.map(([x, y]) => `${1000 * x},${1000 * y}`).join(' ')}" fill="white"/>`).join('')));
  const traced = rustedByOutlines(region, outlines)?.percent ?? NaN;
  // Pixels are 0.0002 % of the region each; those along the line are in or out as their middles are.
  expect(traced).toBeGreaterThan(15);
  expect(Math.abs(traced - truePercent(drawn, region))).toBeLessThan(0.05);
});

function svg(shapes: string): Buffer {
  return Buffer.from(`<svg xmlns="http://www.w3.org/2000/svg" width="1000" height="1000"><rect width="1000" height="1000"/>${shapes}</svg>`);
}
