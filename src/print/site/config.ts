import { createHash } from 'node:crypto';
import { mkdirSync, rmSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import type { AstroInlineConfig, AstroIntegration } from 'astro';
import type { SiteData } from './data.ts';

/** Folder of the package: three levels up from `src/print/site` and from `dist/print/site` alike. */
export const packageRoot = fileURLToPath(new URL('../../../', import.meta.url));

/** The templates as the package ships them. */
export const templates = path.join(packageRoot, 'templates', 'site');

/**
 * The words of the printers, which the templates take as `virtual:words`: functions cannot come with the data of the pages.
 * Source or compiled, as this file is.
 */
const wordsFile = fileURLToPath(new URL(`../../model/printed-words${path.extname(new URL(import.meta.url).pathname)}`, import.meta.url));

/** Where a build happens. All paths absolute. */
export interface SiteBuild {
  site: SiteData;
  /** Root: caches and everything Astro writes. A throw-away folder but in the checkout. */
  work: string;
  /**
   * The templates. On one file system root Astro finds the scripts of its components only where root and `srcDir`
   * share their first folder (normalizeFilename in astro/dist/vite-plugin-utils), so a build works on a copy inside
   * `work`: the package may lie anywhere, read-only, and two jobs share nothing.
   */
  srcDir: string;
  /** Where Astro puts the pages. */
  outDir: string;
}

/** The one Astro configuration, for builds and for work in the checkout. */
export function siteConfig(build: SiteBuild): AstroInlineConfig {
  return {
    configFile: false,
    root: build.work,
    srcDir: build.srcDir,
    publicDir: path.join(build.work, 'public'),
    cacheDir: path.join(build.work, 'cache'),
    outDir: build.outDir,
    output: 'static',
    trailingSlash: 'ignore',
    compressHTML: true,
    devToolbar: { enabled: false },
    prefetch: false,
    // Astro's default links, folders with an index each and styles in files, are dead or slow from disk.
    build: { format: 'file', inlineStylesheets: 'always' },
    markdown: { syntaxHighlight: false },
    // Renditions are made by the pictures printer.
    image: { service: { entrypoint: 'astro/assets/services/noop' } },
    security: {
      csp: {
        directives: [
          "default-src 'none'",
          // From a file, `'self'` is enough for Chromium; Firefox takes a file's own origin for unique and matches
          // it with nothing (nsCSPHostSrc::permits in dom/security/nsCSPUtils.cpp), so the scheme is named too.
          "img-src 'self' file: data:",
          "base-uri 'none'",
          "form-action 'none'",
        ],
      },
    },
    integrations: [dossierIntegration(build)],
  };
}

function dossierIntegration(build: SiteBuild): AstroIntegration {
  return {
    name: 'sillbook',
    hooks: {
      'astro:config:setup': ({ updateConfig, command }) => {
        updateConfig({
          vite: {
            plugins: [dossierModule(build), wordsModule(), astroFromPackage(build.work), noToolbar()],
            // Everything into the prerender bundle: what it leaves outside would be looked up from the work folder.
            environments: command === 'build' ? { prerender: { resolve: { noExternal: true } } } : {},
            cacheDir: path.join(build.work, 'vite'),
            // Found by walking up from the root otherwise, into folders that are none of our business.
            css: { postcss: { plugins: [] } },
            // Astro leaves a script above 4 kB in a file of its own, which no browser loads from disk.
            build: { assetsInlineLimit: (file: string) => (/\.[cm]?js$/.test(file) ? true : undefined) },
            server: { fs: { allow: [packageRoot, build.work] } },
          },
        });
      },
    },
  };
}

// Structural, because vite is Astro's dependency and not ours.
type VitePlugins = NonNullable<NonNullable<AstroInlineConfig['vite']>['plugins']>;
type VitePlugin = Extract<VitePlugins[number], { name: string }>;

/**
 * `virtual:dossier`: the pages as data. They are read from a file while pages are made, as the bundler would parse and print
 * millions of characters several times. The file's name is a hash of them: a module of one address is loaded once a process.
 */
function dossierModule({ site, work }: SiteBuild): VitePlugin {
  return {
    name: 'sillbook:dossier',
    resolveId: { filter: { id: /^virtual:dossier$/ }, handler: () => '\0virtual:dossier' },
    load: {
      filter: { id: /^\0virtual:dossier$/ },
      handler: () => {
        const text = JSON.stringify(site);
        const folder = path.join(work, 'data');
        const file = path.join(folder, `${createHash('sha256').update(text).digest('hex')}.json`);
        rmSync(folder, { recursive: true, force: true });
        mkdirSync(folder, { recursive: true });
        writeFileSync(file, text);
        return `import { readFileSync } from 'node:fs';\nexport default JSON.parse(readFileSync(${JSON.stringify(file)}, 'utf8'));`;
      },
    },
  };
}

/** `virtual:words`: the file itself, bundled with the pages from wherever the package lies. */
function wordsModule(): VitePlugin {
  return { name: 'sillbook:words', resolveId: { filter: { id: /^virtual:words$/ }, handler: () => wordsFile } };
}

/** Astro's virtual modules import `astro/…`, and Vite resolves those from the root, where nothing is installed. */
function astroFromPackage(work: string): VitePlugin {
  const anchor = path.join(packageRoot, 'package.json');
  return {
    name: 'sillbook:astro-from-package',
    enforce: 'pre',
    resolveId: {
      filter: { id: /^astro(\/|$)/ },
      async handler(id, importer) {
        if (importer !== undefined && path.isAbsolute(importer) && !importer.startsWith(work)) return null;
        return this.resolve(id, anchor, { skipSelf: true });
      },
    },
  };
}

/** Astro asks Vite to prepare the parts of its toolbar, found from the root or not at all. */
function noToolbar(): VitePlugin {
  return {
    name: 'sillbook:no-toolbar',
    enforce: 'post',
    configEnvironment(name, options) {
      if (name === 'client' && options.optimizeDeps) options.optimizeDeps.include = [];
    },
  };
}
