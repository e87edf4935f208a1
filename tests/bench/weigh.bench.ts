import { mkdtempSync, readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { buildSync } from 'esbuild';
import { test } from 'vitest';
import type { Inspection } from '../../src/model/inspection.ts';
import type { Levels, OpeningInput, PlaceInput, SectionInput } from '../../src/weigh/risk.ts';
import { coatingStates, metalStates, openingStates, places } from '../../src/weigh/states.ts';
import { judged } from '../write/builders.ts';
import { risk } from '../weigh/sections.ts';

/*
 * What the outlook costs: a whole car of some 60 closed sections, left and with the work done, on one core and with nothing
 * remembered. Here no two sections are alike and each is measured, the dearest case there is; on a car as it is inspected most
 * share what was worked out. Other load on the machine shows, so look at the minima, and at the peers of the same run.
 */

/** The module as one script: what a page or another program runs. The runner's own loader makes every call between files dearer. */
function risky(): typeof import('../../src/weigh/risk.ts') {
  const outfile = path.join(mkdtempSync(path.join(tmpdir(), 'sillbook-bench-')), 'risk.cjs');
  buildSync({ entryPoints: ['src/weigh/risk.ts'], bundle: true, outfile, format: 'cjs', platform: 'neutral' });
  return createRequire(import.meta.url)(outfile);
}

const { drawsOf, fullLevels, weigh, weighSection } = risky();

/** Section number `n` of a car on which no two are alike: states in turn, two in three measured. */
function sectionOf(n: number): SectionInput {
  const pick = <T>(all: readonly T[], step: number): T => all[(n * step + Math.floor(n / all.length)) % all.length] as T;
  const openings = Array.from({ length: 3 + (n % 4) }, (_, at): OpeningInput => ({ state: (n + at) % 4 === 0 ? 'unseen' : pick(openingStates, at + 1), kind: pick(['plug', 'seam', 'hole'], at + 1), place: pick(places, at + 1), mended: (n + at) % 2 === 0 }));
  const place: PlaceInput = { metal: pick(metalStates.slice(0, 5), 1), coating: pick([...coatingStates, 'unseen'], 1), measuredMm: n % 3 === 0 ? null : 0.4 + n / 200, newYears: null, coatedYears: 0, renewed: false };
  const rest: PlaceInput = { ...place, metal: 'unseen', coating: 'unseen', measuredMm: null };
  return {
    sheetMm: 0.7 + n / 100, openings, drain: pick(['open', 'slow', 'blocked', 'unseen', 'none'], 1), drainOpened: n % 2 === 0, water: pick(['nothing seen', 'damp', 'silt', 'standing'], 1),
    places: n % 2 === 0 ? [place, rest] : [place], protected: true, worked: true, surroundings: { salt: 'some', kept: 'outside', airRateUm: null },
  };
}

function weighAll(count: number, levels: Levels): void {
  const draws = drawsOf(risk, levels);
  const memory = new Map();
  for (let n = 0; n < count; n += 1) weighSection(draws, sectionOf(n), memory);
}

/** A million exponentials: what a machine makes of plain arithmetic. */
function exponentials(): number {
  let sum = 0;
  for (let index = 0; index < 1e6; index += 1) sum += Math.exp((index % 1000) / -100);
  return sum;
}

/** Findings of a whole car in which every zone differs from the others, as they are read and placed. */
function fullJob(): Inspection {
  const empty = judged('# Car\n- body: saloon\n').inspection;
  const text = empty.zones.map(({ zone, rows }, at) => {
    const openings = rows.flatMap((row, index) => ((at + index) % 3 === 0 ? [] : [`- ${row.part.name.gb}${row.place === '' ? '' : `, ${row.place}`}: ${row.part.group === 'drain' ? ['open', 'blocked', 'slow'][(at + index) % 3] : ['sound', 'missing', 'cracked', 'loose'][(at + index) % 4]}`]));
    const inside = zone.record.cavities.map((cavity, index) => `- metal inside, ${cavity.name}: ${['sound', 'surface rust', 'scaling', 'pitted', 'thin'][(at + index) % 5]}\n- coating inside, ${cavity.name}: ${['wax good', 'wax thin', 'paint only', 'bare'][(at + index) % 4]}`);
    const side = zone.side === null ? '' : `, ${zone.side}`;
    return `# ${zone.record.name.gb}${side}\n${[...openings, ...inside].join('\n')}\n- steel, place ${at}: 0.${60 + (at % 39)} mm\n`;
  });
  return judged(`# Car\n- body: saloon\n- built: 1971\n- kept: outside\n- winter salt: some\n# Visit\n- seen: 2026-03-14 10:00-11:00\n${text.join('')}`).inspection;
}

const job = fullJob();
const sample = judged(readFileSync('sample-job/2026-03-14/findings.md', 'utf8')).inspection;

/** The same with a model of its own, so that nothing is remembered. */
function cold(one: Inspection): Inspection {
  return { ...one, job: { ...one.job, catalogue: { ...one.job.catalogue, risk: structuredClone(risk) } } };
}

const few = { iterations: 4, warmupIterations: 1, warmupTime: 0, time: 0 };

test('the outlook of a whole car', { timeout: 600_000 }, async ({ bench }) => {
  await bench.compare(
    bench('the sample job, cold', () => void weigh(cold(sample))),
    bench('a job of 60 sections, all different, cold', () => void weigh(cold(job))),
    bench('the same with what each assumption does', () => void weigh(cold(job), { sensitivity: true })),
    bench('the same again, remembered', () => void weigh(job)),
    bench('peer: a million Math.exp', () => void exponentials()),
    few,
  );
});

test('60 sections, growth with the draws of each level', { timeout: 600_000 }, async ({ bench }) => {
  const { outer, inner } = fullLevels;
  await bench.compare(
    bench('64 × 256', () => weighAll(60, fullLevels)),
    bench('outer × 2', () => weighAll(60, { outer: 2 * outer, inner })),
    bench('inner × 2', () => weighAll(60, { outer, inner: 2 * inner })),
    bench('peer: a million Math.exp', () => void exponentials()),
    few,
  );
});

test('growth with the sections', { timeout: 600_000 }, async ({ bench }) => {
  await bench.compare(
    bench('30 sections', () => weighAll(30, fullLevels)),
    bench('60 sections', () => weighAll(60, fullLevels)),
    bench('120 sections', () => weighAll(120, fullLevels)),
    bench('draws alone', () => void drawsOf(risk)),
    few,
  );
});
