import { createHash } from 'node:crypto';
import { execFileSync } from 'node:child_process';
import { chmodSync, cpSync, existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { pathToFileURL } from 'node:url';
import ts from 'typescript';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { packageRoot, templates } from '../../../src/print/site/config.ts';
import { printSite } from '../../../src/print/site/index.ts';
import { siteDossier, writeRenditions } from './dossier.ts';

const folder = mkdtempSync(path.join(tmpdir(), 'sillbook-site-'));
const out = path.join(folder, 'mail dossier äö #1');
const work = path.join(folder, 'work äö');
const lines: string[] = [];
const before = { directory: process.cwd(), environment: { ...process.env } };

const hostile = '<script>alert(1)</script> & "quoted" <img src=x onerror=alert(1)> ${1} {2} import.meta.env.MODE </style>';

function hostileDossier(): ReturnType<typeof siteDossier> {
  const dossier = siteDossier();
  dossier.sections[0]?.blocks.push(
    { type: 'heading', level: 3, text: hostile },
    { type: 'code', text: hostile },
    { type: 'paragraph', inline: [hostile, { text: 'a trap', href: 'javascript:alert(1)' }] },
    { type: 'table', caption: hostile, columns: [{ title: hostile, weight: 1 }, { title: '', weight: 1 }], rows: [{ cells: [{ inline: [hostile] }, { inline: [] }] }] },
    { type: 'photos', look: 'index', figures: [{ photo: 'img-4021', alt: hostile, caption: [hostile] }] },
    { type: 'outlook', caption: hostile, items: [{ name: hostile, inline: [hostile], bars: [{ label: hostile, text: hostile, best: 0, low: 1, middle: 2, high: 3, worst: 4 }] }] },
  );
  return dossier;
}

/** A page without the values of its attributes, where any character but the quote may stand. */
function withoutValues(html: string): string {
  return html.replaceAll(/="[^"]*"/g, '=""');
}

function filesIn(root: string): string[] {
  return readdirSync(root, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => path.relative(root, path.join(entry.parentPath, entry.name)))
    .sort();
}

function pagesIn(root: string): Record<string, string> {
  const pages = filesIn(root).filter((file) => file.endsWith('.html'));
  return Object.fromEntries(pages.map((file) => [file, readFileSync(path.join(root, file), 'utf8')]));
}

/** A file of the program and all it needs at run time, compiled, by path below `src`. */
function compiledFrom(file: string, done = new Map<string, string>()): Map<string, string> {
  if (done.has(file)) return done;
  const source = readFileSync(path.join(packageRoot, 'src', file), 'utf8');
  const options = { module: ts.ModuleKind.ESNext, target: ts.ScriptTarget.ES2023, rewriteRelativeImportExtensions: true };
  const text = ts.transpileModule(source, { compilerOptions: options }).outputText;
  done.set(file, text);
  for (const [, needed = ''] of text.matchAll(/(?:from|import\()\s*['"](\.[^'"]+)\.js['"]/g)) compiledFrom(`${path.posix.join(path.posix.dirname(file), needed)}.ts`, done);
  return done;
}

beforeAll(async () => {
  await writeRenditions(siteDossier(), out);
  await printSite(hostileDossier(), { work, out, log: (line) => lines.push(line) });
}, 60_000);

afterAll(() => rmSync(folder, { recursive: true, force: true }));

test('pages stand beside the photos, and nothing else is there', () => {
  const kinds = filesIn(out).map((file) => (file.startsWith('photos/') ? 'photo' : file));
  expect([...new Set(kinds)]).toEqual(['cautions.html', 'find.html', 'index.html', 'photos.html', 'photo', 'whole.html', 'zones/boot-floor.html', 'zones/sill-left.html', 'zones/sill-right.html']);
  expect(lines).toEqual(['8 pages']);
});

test('the process is left as it was', () => {
  expect(process.cwd()).toBe(before.directory);
  expect(process.env).toEqual(before.environment);
});

test('each page has the script of all pages and one style inside, the index and the check of originals one more, all named in its content policy', () => {
  for (const [file, html] of Object.entries(pagesIn(out))) {
    const bare = withoutValues(html);
    expect(bare.match(/<script\b/g), file).toHaveLength(1 + Number(file === 'find.html') + Number(html.includes('class="originals"')));
    for (const [, script = ''] of html.matchAll(/<script type="module">([^]*?)<\/script>/g)) expect(html, file).toContain(`'sha256-${createHash('sha256').update(script).digest('base64')}'`);
    expect(bare.match(/<style\b/g), file).toHaveLength(1);
    expect(bare, file).not.toMatch(/<script[^>]*\ssrc=|<link\b|\sstyle="|data-astro|astro-[a-z0-9]{6,}/);
    const policy = /http-equiv="content-security-policy" content="([^"]*)"/.exec(html)?.[1] ?? '';
    expect(policy, file).toMatch(/^default-src 'none';img-src 'self' file: data:;base-uri 'none';form-action 'none';/);
    expect(policy, file).not.toContain('unsafe');
    expect(policy, file).toMatch(/script-src 'self' 'sha256-.*style-src 'self' 'sha256-/);
  }
});

test('each page says what it is to browsers and search engines', () => {
  for (const [file, html] of Object.entries(pagesIn(out))) {
    expect(html, file).toMatch(/^<!DOCTYPE html><html lang="en-GB">/i);
    expect(html, file).toContain('<meta name="robots" content="noindex, nofollow, noarchive">');
    expect(html, file).toContain('<meta name="referrer" content="no-referrer">');
    expect(html, file).toContain('<meta name="color-scheme" content="light dark">');
    expect(html.match(/<h1\b/g), file).toHaveLength(1);
    expect(html, file).toContain('Draft, not issued');
    expect(html, file).toContain('Not a roadworthiness test, not a valuation.');
    expect(html, file).toContain('made with Sillbook 0.1.0');
  }
});

test('words stay words, whatever they look like', () => {
  const html = pagesIn(out)['index.html'] ?? '';
  expect(withoutValues(html)).not.toMatch(/<script>|<img src=x/);
  expect(html).not.toContain('javascript:');
  expect(html).toContain('alt="<script>alert(1)</script> &amp; &quot;quoted&quot; <img src=x');
  expect(html).toContain('a trap');
  // Heading, code, paragraph, caption of the table, column, cell, caption of the figure; caption, name, sentence, label
  // and numbers of the outlook: all with every character.
  expect(html.match(/&lt;script&gt;alert\(1\)&lt;\/script&gt; &amp; &quot;quoted&quot; &lt;img src=x onerror=alert\(1\)&gt; \$\{1\} \{2\} import\.meta\.env\.MODE &lt;\/style&gt;/g)).toHaveLength(12);
  expect(pagesIn(out)['zones/sill-left.html']).toContain('hole &lt;5 mm and &lt;seam&gt; open');
});

test('a state is a shape and a word, a line break is a line break, nested emphasis stays nested', () => {
  const html = pagesIn(out)['zones/sill-left.html'] ?? '';
  for (const state of ['defect', 'sound', 'cannot tell', 'not seen', 'not fitted']) {
    expect(html).toMatch(new RegExp(`class="state ${state.replace(' ', '-')}"><svg [^>]*aria-hidden="true">.{10,120}</svg>${state}</span>`));
  }
  expect(html).toContain('</svg>defect</span>, missing');
  expect(html).toContain('First line<br>second line, with <code>clock: -1:13:20</code> and <em>emphasis</em>');
});

test('the numbers of a step stand between what to do and its cautions, and only where it has them', () => {
  const html = pagesIn(out)['index.html'] ?? '';
  expect(html).toMatch(/<p class="what">Wash out, [^]*?<\/p>\s*<p class="figures">If left: <strong>unlikely to about as likely as not<\/strong> \(28 to 47 in 100\)[^]*?<\/p>\s*<p class="heed">Before you start/);
  expect(html.match(/class="figures"/g)).toHaveLength(1);
});

test('styles and script together stay under 50 kB', () => {
  const html = pagesIn(out)['index.html'] ?? '';
  const inside = [...html.matchAll(/<(style|script)\b[^>]*>([^]*?)<\/\1>/g)].map(([, , text = '']) => text);
  expect(inside.join('').length).toBeLessThan(50_000);
});

test('a rendition that is not there stops the build and leaves the last site alone', async () => {
  const target = path.join(folder, 'kept');
  cpSync(out, target, { recursive: true });
  rmSync(path.join(target, 'photos/img-4021-960.jpg'));
  const kept = pagesIn(target);
  const dossier = { ...siteDossier(), title: 'Another title' };
  await expect(printSite(dossier, { work, out: target })).rejects.toThrow('photos.html: nothing at photos/img-4021-960.jpg');
  expect(pagesIn(target)).toEqual(kept);
});

test('a work folder whose path Vite cannot take is refused by name', async () => {
  await expect(printSite(siteDossier(), { work: path.join(folder, 'work #1'), out })).rejects.toThrow('work #1 has "#" or "?" in its path');
});

test('two builds asked for at once wait for each other and both come out', async () => {
  const targets = ['one', 'two'].map((name) => path.join(folder, name));
  for (const target of targets) cpSync(path.join(out, 'photos'), path.join(target, 'photos'), { recursive: true });
  await Promise.all(targets.map((target) => printSite({ ...siteDossier(), title: path.basename(target) }, { work: `${target}-work`, out: target })));
  for (const target of targets) expect(pagesIn(target)['index.html']).toContain(`<title>${path.basename(target)}</title>`);
});

test('installed read-only under node_modules elsewhere it prints the same bytes', () => {
  const home = path.join(folder, 'usr lib', 'node_modules');
  const installed = path.join(home, 'sillbook');
  for (const [file, text] of compiledFrom('print/site/index.ts')) {
    const target = path.join(installed, 'dist', file.replace(/\.ts$/, '.js'));
    mkdirSync(path.dirname(target), { recursive: true });
    writeFileSync(target, text);
  }
  cpSync(templates, path.join(installed, 'templates/site'), { recursive: true });
  writeFileSync(path.join(installed, 'package.json'), '{"name":"sillbook","type":"module"}');
  symlinkSync(path.join(packageRoot, 'node_modules/astro'), path.join(home, 'astro'));
  const contents = readdirSync(installed, { recursive: true, encoding: 'utf8' }).map((file) => path.join(installed, file));
  const locked = [installed, ...contents];
  for (const file of locked) chmodSync(file, existsSync(path.join(file, '.')) ? 0o555 : 0o444);

  const target = path.join(folder, 'from elsewhere');
  cpSync(path.join(out, 'photos'), path.join(target, 'photos'), { recursive: true });
  writeFileSync(path.join(folder, 'dossier.json'), JSON.stringify(hostileDossier()));
  const script = `
    import { readFileSync } from 'node:fs';
    const { printSite } = await import(${JSON.stringify(pathToFileURL(path.join(installed, 'dist/print/site/index.js')).href)});
    await printSite(JSON.parse(readFileSync('dossier.json', 'utf8')), { work: 'another work', out: 'from elsewhere' });
  `;
  const printed = execFileSync(process.execPath, ['--input-type=module', '--eval', script], { cwd: folder, encoding: 'utf8' });
  for (const file of locked) chmodSync(file, 0o755);
  expect(printed).toBe('');
  expect(pagesIn(target)).toEqual(pagesIn(out));
}, 60_000);
