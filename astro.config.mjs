// @ts-check
// For work on the templates (astro dev, astro check), with the sample's dossier where it was built; photos stay away.
// `sillbook build` never reads this file.
import { existsSync, mkdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { defineConfig } from 'astro/config';
import { packageRoot, siteConfig, templates } from './src/print/site/config.ts';
import { sitePages } from './src/print/site/pages.ts';

const work = path.join(packageRoot, '.work');
mkdirSync(work, { recursive: true });
const dossier = path.join(packageRoot, 'sample-job/2026-03-14/out/dossier.json');
const site = existsSync(dossier) ? sitePages(JSON.parse(readFileSync(dossier, 'utf8'))) : /** @type {any} */ ({ pages: [] });
const { configFile: _, ...config } = siteConfig({ site, work, srcDir: templates, outDir: path.join(work, 'site') });

export default defineConfig(config);
