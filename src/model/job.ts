import type { Catalogue } from './catalogue.ts';
import type { Notes } from './notes.ts';
import type { Notice } from './notice.ts';
import type { Photo } from './photo.ts';
import type { Rates } from './rates.ts';
import type { Settings } from './settings.ts';

/** What `read` makes of a job folder: nothing judged yet. */
export interface Job {
  catalogue: Catalogue;
  settings: Settings;
  /** Name of the visit's folder within that of the car; empty or left out where it is the same. */
  visit?: string;
  /** Ids of zones written about at earlier visits; left out at a first visit. */
  lookedBefore?: string[];
  notes: Notes;
  /** The workshop's own, out of the findings and the settings. */
  rates: Rates;
  /** Sorted by path in code-unit order. */
  photos: Photo[];
  notices: Notice[];
}

/** Passed in from the outside, so that the same job gives the same bytes. */
export interface Clock {
  /** Today in UTC, `2026-03-15`; used only for "in the future" notices. */
  today: string;
}

/** Whether a dossier is a draft or a frozen issue. */
export type Issue = { number: string; date: string } | null;

/** What the PDF is for: to keep, to mail, to go on with. */
export const pdfKinds = ['record', 'share', 'data'] as const;
export type PdfKind = (typeof pdfKinds)[number];

/** Lists of hashes in every dossier: of the originals it rests on, and of the files delivered. */
export const originalsName = 'originals-sha256.txt';
export const manifestName = 'manifest-sha256.txt';

export const pdfName = 'dossier.pdf';
