/// <reference types="astro/client" />

declare module 'virtual:dossier' {
  /** The pages of the dossier as plain data, made by `src/print/site/pages.ts`. */
  const site: import('../../src/print/site/data.ts').SiteData;
  export default site;
}
