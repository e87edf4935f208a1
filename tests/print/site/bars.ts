import { cpSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll } from 'vitest';
import { dossierSchema } from '../../../src/model/dossier.ts';
import type { Dossier } from '../../../src/model/dossier.ts';
import { printSite } from '../../../src/print/site/index.ts';
import { launch } from '../../chromium.ts';
import { copySample, sillbook } from '../../commands/command-line.ts';
import { writeRenditions } from './dossier.ts';
import { pairDossier, writePairPictures } from './pair-dossier.ts';

/** The sample job as a user builds it, in a folder as mail leaves it, and a site with pairs, which one visit alone has none of. */
export interface Built {
  sample: string;
  pairs: string;
  /** The site with pairs, with a word of 96 letters behind every text. */
  long: string;
  dossier: Dossier;
  /** Pages of the sample. */
  files: string[];
  remove(): void;
}

export function pagesIn(folder: string): string[] {
  return readdirSync(folder, { recursive: true, encoding: 'utf8' }).filter((file) => file.endsWith('.html')).sort();
}

const longWord = 'Unterbodenschutz'.repeat(6);
/** A copy of what a dossier holds in which every text that is read ends in a long word; but for heads of columns and tags, whose few words are ours. */
function stretched<Tree>(tree: Tree, key = ''): Tree {
  if (typeof tree === 'string') return (['text', 'title', 'term', 'note', 'caption', 'label', 'name', 'gist', 'coverage', 'alt', 'inline', 'why', 'what', 'value', 'limits', 'subtitle', 'author', 'nav'].includes(key) ? `${tree} ${longWord}` : tree) as Tree;
  if (Array.isArray(tree)) return tree.map((part: unknown) => stretched(part, key)) as Tree;
  if (typeof tree !== 'object' || tree === null) return tree;
  return Object.fromEntries(Object.entries(tree).map(([name, part]) => [name, name === 'columns' ? part : stretched(part, name)])) as Tree;
}

async function buildAll(): Promise<Built> {
  const folder = mkdtempSync(path.join(tmpdir(), 'sillbook-bars-'));
  const sample = path.join(folder, 'mail dossier äö #1');
  const ran = sillbook(['build', copySample(folder), '--out', sample]);
  if (ran.code !== 0) throw new Error(ran.err);
  const pairs = path.join(folder, 'pairs');
  mkdirSync(pairs);
  await writeRenditions(pairDossier(), pairs);
  await writePairPictures(pairs);
  await printSite(pairDossier(), { work: path.join(folder, 'work'), out: pairs });
  const long = path.join(folder, 'long');
  cpSync(path.join(pairs, 'photos'), path.join(long, 'photos'), { recursive: true });
  const { sections, title, subtitle, limits, author } = pairDossier();
  await printSite({ ...pairDossier(), ...stretched({ sections, title, subtitle, limits, author }) }, { work: path.join(folder, 'work'), out: long });
  const dossier = dossierSchema.parse(JSON.parse(readFileSync(path.join(sample, 'dossier.json'), 'utf8')));
  return { sample, pairs, long, dossier, files: pagesIn(sample), remove: () => rmSync(folder, { recursive: true, force: true }) };
}

/** The sites and a browser for all tests of the place it is called from, made before the first and gone after the last. */
export function builtAndBrowsed(): { built: Built; browser: Browser } {
  const given = {} as { built: Built; browser: Browser };
  beforeAll(async () => {
    given.built = await buildAll();
    given.browser = await launch();
  });
  afterAll(async () => {
    await given.browser?.close();
    given.built?.remove();
  });
  return given;
}

export interface Kind {
  name: string;
  site: 'sample' | 'pairs';
  file: string;
  /** What a reader does first. */
  first?: (page: Page) => Promise<unknown>;
}
const page = (name: string, file = `${name}.html`): Kind => ({ name, site: 'sample', file });

/** As by keyboard; the focus is on the first of the viewer's buttons. */
async function openPhoto(open: Page): Promise<void> {
  await open.focus('a.picture >> nth=0');
  await open.keyboard.press('Enter');
  await open.waitForSelector('dialog[open]');
  await open.keyboard.press('Shift+Tab');
}

/** One page of every kind, in every state that shows other things. */
export const kinds: Kind[] = [
  page('overview', 'index.html'),
  page('a zone, with readings and photos', 'zones/sill-left.html'),
  page('a zone nobody saw', 'zones/chassis-leg-left.html'),
  ...['outlook', 'register', 'not-seen', 'work', 'photos', 'about', 'method', 'files', 'find', 'whole'].map((name) => page(name)),
  { name: 'find, with a choice made', site: 'sample', file: 'find.html#q=plug&state=defect', first: (open) => open.waitForSelector('.find-list [hidden]', { state: 'attached' }) },
  { name: 'a photo over the page', site: 'sample', file: 'zones/sill-left.html', first: openPhoto },
  { name: 'pairs', site: 'pairs', file: 'pairs.html' },
];

/** Lays out what is far from the screen, too: what has no place yet has no size, and its neighbours none either. */
export async function layOutAll(open: Page): Promise<void> {
  await open.evaluate(() => {
    const sheet = new CSSStyleSheet();
    sheet.replaceSync('.find-group { content-visibility: visible !important }');
    document.adoptedStyleSheets.push(sheet);
  });
}

/** Goes through every picture of the page as a reader does, to its end. */
export async function scrollThrough(open: Page): Promise<void> {
  await open.evaluate(async () => {
    for (let top = 0; top < document.documentElement.scrollHeight; top += innerHeight) {
      scrollTo(0, top);
      await new Promise((resolve) => requestAnimationFrame(() => resolve(null)));
    }
  });
  await open.waitForFunction(() => [...document.images].every((image) => image.complete || image.closest('dialog') !== null));
}
