import { execFileSync } from 'node:child_process';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import type { CavityOutlook, Outlook } from '../../src/model/inspection.ts';
import { place } from '../../src/place/index.ts';
import { readCatalogue } from '../../src/read/catalogue/index.ts';
import { readNotes } from '../../src/read/notes/index.ts';
import { noRates } from '../../src/model/rates.ts';
import { weigh } from '../../src/weigh/index.ts';
import { judged } from '../write/builders.ts';
import { chanceKeys, lowerThan } from './sections.ts';

const head = '# Car\n- body: saloon\n- built: 1971\n- kept: outside\n- winter salt: some\n# Visit\n- seen: 2026-03-14 10:00-11:00\n';

function states(...words: string[]): fc.Arbitrary<string> {
  return fc.constantFrom(...words);
}

const plugState = states('sound', 'hardened', 'cracked', 'loose', 'perished', 'missing', 'sealed over');
const metalState = states('sound', 'surface rust', 'scaling', 'pitted', 'thin', 'holed', 'patched', 'overlaid');
/** The openings every sill has, once each, and what can be seen inside its two sections. */
const lines: readonly fc.Arbitrary<string>[] = [
  plugState.map((state) => `plug, inner face: ${state}`),
  plugState.map((state) => `end cap, front: ${state}`),
  plugState.map((state) => `end cap, rear: ${state}`),
  states('open', 'blocked', 'slow').map((state) => `drain slot, bottom seam: ${state}`),
  states('sound', 'split', 're-sealed').map((state) => `seam, bottom: ${state}`),
  states('sound', 'surface rust', 'crushed').map((state) => `jacking point: ${state}`),
  metalState.map((state) => `metal inside, outer cell: ${state}`),
  metalState.map((state) => `metal inside, inner cell, front half: ${state}`),
  states('wax good', 'wax thin', 'paint only', 'bare').map((state) => `coating inside, outer cell: ${state}`),
  states('wax good', 'wax thin', 'paint only', 'bare').map((state) => `coating inside, inner cell: ${state}`),
  states('standing', 'damp', 'dry silt', 'dry').map((state) => `water, outer cell: ${state}`),
  states('0.9', '0.7', '0.35').map((mm) => `steel, outer face: ${mm} mm, ${mm} mm, ${mm} mm`),
];
const findings: fc.Arbitrary<string[]> = fc.tuple(...lines.map((line) => fc.option(line))).map((all) => all.filter((line) => line !== null));

function jobText(zones: Readonly<Record<string, readonly string[]>>): string {
  return head + Object.entries(zones).map(([name, own]) => `# ${name}\n${own.map((line) => `- ${line}\n`).join('')}`).join('');
}

function sectionsOf(outlook: Outlook, zone: string): CavityOutlook[] {
  return outlook.cavities.filter((one) => one.zone === zone);
}

/*
 * Who sees the whole inside of a section sees water, holes and thin places too: of such a section, a line about one of them
 * is more than was seen without it, so there the bounds may follow it. The same of a reading that counts once nobody says
 * that the face is rough.
 */
function mayFollow(line: string, before: CavityOutlook, after: CavityOutlook): boolean {
  if (after.insideSeen === 'whole') return /^(water|metal|steel)/.test(line);
  return before.measuredMm !== after.measuredMm;
}

test('taking a finding away narrows the bounds of no section, and raises no coverage', () => {
  fc.assert(fc.property(findings.filter((all) => all.length > 0), fc.nat(), (all, at) => {
    const index = at % all.length;
    const whole = judged(jobText({ 'Sill, left': all }));
    expect(whole.inspection.notices.filter((notice) => /unknown|unclear|ambiguous/.test(notice.rule))).toEqual([]);
    const less = judged(jobText({ 'Sill, left': all.filter((_, other) => other !== index) }));
    expect(less.inspection.coverage.seen).toBeLessThanOrEqual(whole.inspection.coverage.seen);
    for (const [section, after] of less.outlook.cavities.entries()) {
      const before = whole.outlook.cavities[section] as CavityOutlook;
      if (mayFollow(all[index] ?? '', before, after)) continue;
      expect(lowerThan(before.weighed.left, after.weighed.left, ['best'])).toEqual([]);
      expect(lowerThan(after.weighed.left, before.weighed.left, ['worst'])).toEqual([]);
    }
  }), { numRuns: 150 });
});

test('left and right with the same findings have the same numbers', () => {
  fc.assert(fc.property(findings, (all) => {
    const { outlook } = judged(jobText({ 'Sill, left': all, 'Sill, right': all }));
    const numbers = (zone: string): unknown[] => sectionsOf(outlook, zone).map(({ weighed, share }) => ({ weighed, share }));
    expect(numbers('sill-right')).toEqual(numbers('sill-left'));
    const worth = (zone: string): number[] => outlook.car.looks.filter((look) => look.zone === zone).map((look) => look.perHour);
    expect(worth('sill-right')).toEqual(worth('sill-left'));
  }), { numRuns: 60 });
});

test('the order of lines and of zones changes no number', () => {
  const shuffled = findings.chain((all) => fc.tuple(fc.constant(all), fc.shuffledSubarray(all, { minLength: all.length })));
  fc.assert(fc.property(shuffled, ([all, other]) => {
    const floor = ['plug, floor pan: missing', 'metal inside: scaling'];
    const one = judged(jobText({ 'Sill, left': all, 'Floor, left': floor })).outlook;
    const two = judged(jobText({ 'Floor, left': floor, 'Sill, left': other })).outlook;
    expect(two.cavities.map(({ weighed, share }) => ({ weighed, share }))).toEqual(one.cavities.map(({ weighed, share }) => ({ weighed, share })));
    expect(two.car.hours).toEqual(one.car.hours);
  }), { numRuns: 60 });
});

test('the order of sections in the catalogue changes no number', () => {
  const text = jobText({ 'Sill, left': ['plug, inner face: missing', 'metal inside, inner cell: scaling'] });
  const outlookWith = (turned: boolean): Outlook => {
    // A catalogue of its own each time, so that nothing is remembered from before.
    const catalogue = structuredClone(readCatalogue());
    if (turned) {
      for (const zone of catalogue.zones) {
        zone.order = 1000 - zone.order;
        zone.cavities.reverse();
      }
    }
    const settings = { units: 'mm' as const, language: 'en-GB' as const };
    const { notes } = readNotes({ file: 'findings.md', text, catalogue, settings, photoNames: [] });
    return weigh(place({ catalogue, settings, notes, rates: noRates, photos: [], notices: [] }));
  };
  const numbersOf = (outlook: Outlook): Map<string, unknown> => new Map(outlook.cavities.map(({ zone, cavity, weighed, share }) => [`${zone} ${cavity}`, { weighed, share }]));
  const [usual, turned] = [outlookWith(false), outlookWith(true)];
  expect(new Set(turned.cavities.map((one) => one.sheetMm)).size).toBeGreaterThan(1);
  expect(turned.cavities.map((one) => one.zone)).not.toEqual(usual.cavities.map((one) => one.zone));
  expect(numbersOf(turned)).toEqual(numbersOf(usual));
  expect(turned.car.hours.apart.middle).toBeCloseTo(usual.car.hours.apart.middle, 9);
});

test('whatever is written, every section has chances in order', () => {
  fc.assert(fc.property(findings, fc.constantFrom('', '- do: wax, plugs\n', '- do: replace the section\n', '- not seen: rear third\n'), (all, more) => {
    const { outlook } = judged(jobText({ 'Sill, left': all }) + more);
    for (const { weighed } of outlook.cavities) {
      for (const chance of [...weighed.left.chances, ...(weighed.done?.chances ?? [])]) {
        const row = [0, ...chanceKeys.map((key) => chance[key]), 1];
        expect(row.toSorted((a, b) => a - b)).toEqual(row);
      }
      if (weighed.done !== null) expect(lowerThan(weighed.left, weighed.done)).toEqual([]);
    }
  }), { numRuns: 100 });
});

test('the sample job comes to the same bytes in any time zone and language, and from run to run', () => {
  const program = "import { inspect } from './src/job.ts'; const { outlook } = await inspect('sample-job/2026-03-14', { clock: { today: '2026-06-01' }, sensitivity: true }); process.stdout.write(JSON.stringify(outlook));";
  const run = (env: Record<string, string>): string =>
    execFileSync(process.execPath, ['--input-type=module', '-e', program], { encoding: 'utf8', maxBuffer: 1 << 28, env: { ...process.env, NODE_OPTIONS: '', ...env } });
  const here = run({ TZ: 'UTC', LANG: 'C', LC_ALL: 'C' });
  expect(JSON.parse(here).cavities.length).toBeGreaterThan(20);
  expect(run({ TZ: 'Pacific/Chatham', LANG: 'tr_TR.UTF-8', LC_ALL: 'tr_TR.UTF-8' })).toBe(here);
});
