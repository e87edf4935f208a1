import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterEach, describe, expect, test } from 'vitest';
import { inspect } from '../../src/job.ts';
import { assumptionsOf } from '../../src/model/risk.ts';
import type { Inspected } from '../../src/job.ts';
import { readCatalogue } from '../../src/read/catalogue/index.ts';
import { dossierOf, textOf } from '../write/builders.ts';

const content = fileURLToPath(new URL('../../content', import.meta.url));

const folders: string[] = [];
afterEach(() => {
  for (const folder of folders.splice(0)) rmSync(folder, { recursive: true });
});

function scratch(): string {
  const folder = mkdtempSync(join(tmpdir(), 'sillbook-risk-'));
  folders.push(folder);
  return folder;
}

/** What reading the risk model throws with one text put in the place of another, and the line of that text. */
function spoiled(from: string, to: string): { thrown: string; line: number } {
  const folder = scratch();
  cpSync(content, folder, { recursive: true });
  const file = join(folder, 'risk-model.md');
  const text = readFileSync(file, 'utf8');
  expect(text.split(from)).toHaveLength(2);
  writeFileSync(file, text.replace(from, to));
  const line = text.slice(0, text.indexOf(from)).split('\n').length;
  try {
    readCatalogue(folder);
  } catch (error) {
    return { thrown: String(error), line };
  }
  return { thrown: 'nothing thrown', line };
}

describe('a slip in the risk model is reported with file and line', () => {
  test.each([
    ['numbers that do not rise', '- pit-factor: 2 / 3 / 4.5', '- pit-factor: 2 / 5 / 4.5', 'gives "pit-factor" low, likely and high that do not rise'],
    ['two numbers only', '- pit-factor: 2 / 3 / 4.5', '- pit-factor: 2 / 3', 'has a wrong or missing high'],
    ['a word for a number', '- pit-factor: 2 / 3 / 4.5', '- pit-factor: 2 / three / 4.5', 'has a wrong or missing likely'],
    ['a number below nothing', '- pit-factor: 2 / 3 / 4.5', '- pit-factor: -2 / 3 / 4.5', 'has a wrong or missing low'],
    ['no numbers', '- pit-factor: 2 / 3 / 4.5', '- pit-factor', 'is no assumption: "pit-factor"'],
    ['a chance above 1', '- leak: 0.02 / 0.05 / 0.10', '- leak: 0.02 / 0.05 / 10', 'gives "leak" a chance above 1'],
    ['shares that do not sum to 1', '- unseen-hole: 0.75, 0.25', '- unseen-hole: 0.75, 0.35', 'gives "unseen-hole" shares that do not sum to 1'],
    ['a share too few', '- unseen-seam: 0.60, 0.25, 0.15', '- unseen-seam: 0.75, 0.25', 'gives "unseen-seam" 2 shares for 3 states'],
    ['an id nothing uses', '- pit-factor: 2 / 3 / 4.5', '- pitt-factor: 2 / 3 / 4.5', 'lacks pit-factor'],
    ['an id given twice', '- loss-scaling: 50', '- loss-sound: 50', 'gives "loss-sound" twice'],
  ])('%s', (_, from, to, message) => {
    const { thrown, line } = spoiled(from, to);
    expect(thrown).toContain(message);
    expect(thrown).toMatch(message.startsWith('lacks') ? /content\/risk-model\.md:1 / : new RegExp(`content/risk-model\\.md:${line} `));
  });

  test.each([
    ['a misspelt key', '  - why: gives under the thumb', '  - why: gives under the thumb\n  - spraed: 0.4', 1, 'has an unknown key "spraed"'],
    ['an unknown condition', '  - conditions: pitted', '  - conditions: pittet', 0, 'names an unknown condition "pittet"'],
    ['no reason', '  - why: gives under the thumb\n', '', -4, 'has a wrong or missing why'],
  ])('%s', (_, from, to, above, message) => {
    const { thrown, line } = spoiled(from, to);
    expect(thrown).toContain(`content/risk-model.md:${line + above} ${message}`);
  });

  test('an assumption that nothing uses, at its line', () => {
    const { thrown, line } = spoiled('- pit-factor: 2 / 3 / 4.5\n', '- wind: 1 / 2 / 3\n  - name: wind\n  - why: it blows\n- pit-factor: 2 / 3 / 4.5\n');
    expect(thrown).toContain(`content/risk-model.md:${line} gives "wind", which nothing uses`);
  });
});

const findings = `# Car
- car: Test 1
- built: 1971
- body: saloon
# Visit
- seen: 2026-03-14 10:00-12:00, Europe/Dublin
# Sill, left
- plug, inner face: missing
- metal inside, inner cell: scaling
`;

async function jobWith(settings: object): Promise<Inspected> {
  const job = scratch();
  writeFileSync(join(job, 'findings.md'), findings);
  writeFileSync(join(job, 'sillbook.json'), JSON.stringify(settings));
  const inspected = await inspect(job, { clock: { today: '2026-06-01' }, sensitivity: true });
  if (!inspected) throw new Error('no job');
  return inspected;
}

function methodOf({ inspection, outlook, plan }: Inspected): string {
  const section = dossierOf({ inspection, outlook, plan }).sections.find((one) => one.id === 'method');
  return textOf(section?.blocks ?? []);
}

function tenYears({ outlook }: Inspected): number {
  return outlook.cavities.find((one) => one.zone === 'sill-left' && one.cavity === 'inner-cell')?.weighed.left.chances[3]?.middle ?? Number.NaN;
}

describe('a job puts numbers of its own in the place of assumptions', () => {
  test('they count, the dossier says which and what was there before, and the shared model stays as it is', async () => {
    const before = JSON.stringify(assumptionsOf(readCatalogue().risk));
    const plain = await jobWith({});
    const changed = await jobWith({ risk: { 'pit-factor': [3, 4, 5], 'unseen-hole': [0.5, 0.5], leak: [0.02, 0.05, 0.1] } });
    expect(changed.notices.filter((notice) => notice.rule.startsWith('assumption'))).toEqual([]);
    expect(tenYears(changed)).toBeGreaterThan(tenYears(plain) + 0.01);
    const method = methodOf(changed);
    // The leak is given as it was: that is no change.
    expect(method).toContain('Changed by this job: deepest place over mean loss (was 2 / 3 / 4.5) and a hole or jacking point not seen (was 0.75 / 0.25). The numbers of this dossier are not those of the model as it is shared.');
    expect(method).toContain('3 / 4 / 5');
    expect(method).toContain('set by this job');
    expect(methodOf(plain)).not.toContain('Changed by this job');
    expect(methodOf(plain)).not.toContain('set by this job');
    expect(JSON.stringify(assumptionsOf(readCatalogue().risk))).toBe(before);
  });

  test('numbers that cannot be used stop the build, and count for nothing until then', async () => {
    const plain = await jobWith({});
    const wrong = await jobWith({ risk: { 'pit-factor': [5, 4, 3], 'pit-facter': [3, 4, 5] } });
    expect(wrong.notices.filter((notice) => notice.rule.startsWith('assumption')).map(({ level, rule }) => `${level} ${rule}`).toSorted()).toEqual(['error assumption-unclear', 'warning assumption-unknown']);
    expect(tenYears(wrong)).toBe(tenYears(plain));
    expect(methodOf(wrong)).not.toContain('Changed by this job');
  });
});
