import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { pathToFileURL } from 'node:url';
import { build } from 'esbuild';
import { describe, expect, test } from 'vitest';
import { canBrowse, launch, testWithoutBrowser } from '../chromium.ts';
import { weigh } from '../../src/weigh/index.ts';
import { drawsOf, weighSection } from '../../src/weigh/risk.ts';
import type { SectionInput, Weighed } from '../../src/weigh/risk.ts';
import { judged } from '../write/builders.ts';
import { numbersIn, risk, sectionWith, soundPlace, soundPlug } from './sections.ts';

/** The risk model as one script that any page can load: its text, and the files it is made of. */
async function bundle(): Promise<{ text: string; inputs: string[] }> {
  const made = await build({ entryPoints: ['src/weigh/risk.ts'], bundle: true, write: false, format: 'iife', globalName: 'sillbookRisk', platform: 'browser', metafile: true, legalComments: 'none', logLevel: 'silent' });
  return { text: made.outputFiles[0]?.text ?? '', inputs: Object.keys(made.metafile.inputs) };
}

test('the risk model imports nouns and units, and nothing of Node or of anybody else', () => {
  const wrong = readdirSync('src/weigh').flatMap((file) => {
    const text = readFileSync(path.join('src/weigh', file), 'utf8');
    const targets = [...text.matchAll(/(?:from|import)\s*\(?\s*'([^']+)'/g)].map((match) => match[1] ?? '');
    return targets.filter((target) => !/^\.\/[a-z-]+\.ts$/.test(target) && !/^\.\.\/(model\/[a-z-]+|units)\.ts$/.test(target)).map((target) => `${file}: ${target}`);
  });
  expect(wrong).toEqual([]);
});

test('as one script it is made of its own files only, and asks for no clock, no chance, no page, no Node', async () => {
  const { text, inputs } = await bundle();
  expect(inputs.filter((file) => !/^src\/(weigh\/|model\/|units\.ts$)/.test(file))).toEqual([]);
  expect(text).toContain('weighSection');
  // Comments are gone from a bundle, so these words could only be code.
  expect(text.match(/node:|\b(process|require|document|window|globalThis|Date|Intl|performance|crypto|fetch)\b|Math\.random|\.toLocale|localeCompare/g)).toBeNull();
  // 69 kB when this was written; with a library by mistake it is ten times that.
  expect(text.length).toBeLessThan(150_000);
});

/** A section with a bit of everything: seen, unseen, measured, dated, mended. */
const section: SectionInput = sectionWith({
  openings: [{ ...soundPlug, state: 'missing', mended: true }, { ...soundPlug, state: 'unseen', place: 'road-spray' }, { ...soundPlug, state: 'cracked', kind: 'seam', place: 'indoors' }],
  drain: 'unseen', water: 'damp', worked: true, protected: true, drainOpened: true,
  places: [{ ...soundPlace, metal: 'unseen', coating: 'unseen' }, { ...soundPlace, metal: 'pitted', measuredMm: 0.55 }, { ...soundPlace, newYears: 22, coatedYears: 3 }],
  surroundings: { salt: 'unseen', kept: 'coast', airRateUm: 57.2 },
});

/** What the script offers to a page. */
interface Page {
  sillbookRisk: { drawsOf: typeof drawsOf; weighSection: typeof weighSection; weigh: typeof weigh };
}

if (!canBrowse()) testWithoutBrowser();
else {
  describe('in a browser, over file://', () => {
    test('a section and a whole job come to the numbers Node comes to', async () => {
      const folder = mkdtempSync(path.join(tmpdir(), 'sillbook-risk-'));
      const browser = await launch();
      try {
        writeFileSync(path.join(folder, 'risk.js'), (await bundle()).text);
        writeFileSync(path.join(folder, 'index.html'), '<!doctype html><html lang="en"><meta charset="utf-8"><title>Risk</title><script src="risk.js"></script>');
        const page = await browser.newPage();
        const complaints: string[] = [];
        page.on('console', (message) => complaints.push(message.text()));
        page.on('pageerror', (error) => complaints.push(error.message));
        await page.goto(pathToFileURL(path.join(folder, 'index.html')).href);
        const { inspection, outlook } = judged('# Car\n- body: saloon\n- built: 1971\n- winter salt: some\n# Visit\n- seen: 2026-03-14 10:00-11:00\n# Sill, left\n- plug, inner face: missing\n- metal inside, inner cell: scaling\n- do: wax, new plugs\n');
        const asked = JSON.stringify({ risk, section, inspection });
        const answered = await page.evaluate((text) => {
          const given = JSON.parse(text);
          const { sillbookRisk } = globalThis as unknown as Page;
          return JSON.stringify({ one: sillbookRisk.weighSection(sillbookRisk.drawsOf(given.risk), given.section, new Map()), all: sillbookRisk.weigh(given.inspection) });
        }, asked);
        expect(complaints).toEqual([]);
        const { one, all } = JSON.parse(answered) as { one: Weighed; all: typeof outlook };
        expectAlike(one, weighSection(drawsOf(risk), section, new Map()));
        expectAlike(all.cavities, outlook.cavities);
        expectAlike(all.car, outlook.car);
      } finally {
        await browser.close();
        rmSync(folder, { recursive: true, force: true });
      }
    });
  });
}

/** Equal but for the last digits, in which engines may differ. */
function expectAlike(found: unknown, expected: unknown): void {
  const [some, others] = [numbersIn(found), numbersIn(expected)];
  expect(others.length).toBeGreaterThan(100);
  expect(some.length).toBe(others.length);
  for (const [at, number] of some.entries()) expect(Math.abs(number - (others[at] ?? Number.NaN))).toBeLessThanOrEqual(1e-9 * Math.max(1, Math.abs(number)));
  expect(JSON.stringify(found, texts)).toBe(JSON.stringify(JSON.parse(JSON.stringify(expected)), texts));
}

/** Everything but the numbers. */
function texts(_key: string, value: unknown): unknown {
  return typeof value === 'number' ? 0 : value;
}
