/// <reference types="astro/client" />

declare module 'virtual:words' {
  /** All that stands in a page and does not come from the dossier, but for the signs between words. */
  export const words: import('../../src/model/printed-words.ts').Words;
}

declare module 'virtual:dossier' {
  /** The pages of the dossier as plain data, made by `src/print/site/pages.ts`. */
  const site: import('../../src/print/site/data.ts').SiteData;
  export default site;
}
