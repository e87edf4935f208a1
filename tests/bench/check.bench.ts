import { execFileSync } from 'node:child_process';
import { cpSync, mkdirSync, mkdtempSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { unified } from 'unified';
import remarkParse from 'remark-parse';
import { test } from 'vitest';
import { readCatalogue } from '../../src/read/catalogue/index.ts';
import { readNotes } from '../../src/read/notes/index.ts';
import { settingsSchema } from '../../src/model/settings.ts';

/** A job of 300 findings and 300 photos (the sample's, copied), made once. */
function bigJob(): string {
  const job = mkdtempSync(path.join(tmpdir(), 'sillbook-bench-'));
  mkdirSync(path.join(job, 'photos'));
  for (let index = 0; index < 300; index += 1) cpSync(`sample-job/2026-03-14/photos/IMG_40${21 + (index % 18)}.jpg`, path.join(job, 'photos', `IMG_${5000 + index}.jpg`));
  const lines = Array.from({ length: 300 }, (_, index) => `${index % 15 === 0 ? `\n# ${['Sill, left', 'Sill, right', 'Inner wing, left', 'Floor, left'][(index / 15) % 4]}\n\n` : ''}- plug, face ${index + 1}: ${['sound', 'missing', 'cracked, loose'][index % 3]}. pressed. IMG_${5000 + index}`);
  writeFileSync(path.join(job, 'findings.md'), `# Car\n- built: 1971\n- body: saloon\n${lines.join('\n')}\n`);
  return job;
}

const job = bigJob();
const text = readFileSync(path.join(job, 'findings.md'), 'utf8');
const catalogue = readCatalogue();
const settings = settingsSchema.parse({});

test('check of 300 findings and 300 photos, as a process', { timeout: 120_000 }, async ({ bench }) => {
  await bench.compare(
    bench('sillbook check', () => void execFileSync(process.execPath, ['src/cli.ts', 'check', job], { stdio: 'pipe' })),
    bench('peer: sha256sum of the same photos', () => void execFileSync('sh', ['-c', `sha256sum "${job}"/photos/*`], { stdio: 'pipe' })),
    bench('peer: an empty process', () => void execFileSync(process.execPath, ['-e', '0'], { stdio: 'pipe' })),
    { iterations: 8, warmupIterations: 1, time: 0 },
  );
});

test('reading 300 findings', async ({ bench }) => {
  await bench.compare(
    bench('the findings reader', () => void readNotes({ file: 'findings.md', text, catalogue, settings, photoNames: [] })),
    bench('peer: remark-parse of the same text', () => void unified().use(remarkParse).parse(text)),
    { iterations: 20 },
  );
});
