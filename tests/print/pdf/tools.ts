import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { PDFArray, PDFDict, PDFDocument, PDFName, PDFNumber, PDFRawStream, PDFRef, decodePDFRawStream } from 'pdf-lib';
import type { PDFObject } from 'pdf-lib';
import type { Dossier } from '../../../src/model/dossier.ts';
import { printPdf } from '../../../src/print/pdf/index.ts';
import type { PdfOptions } from '../../../src/print/pdf/index.ts';

/** Output of a command of poppler, null where that is not installed. */
export function poppler(command: string, args: readonly string[]): Buffer | null {
  return tool(command, 'poppler-utils', args);
}

/**
 * Output of a command of a Debian package. Where it is not installed the test says so and goes without (null); in CI, which
 * installs it, that is a failure.
 */
export function tool(command: string, debian: string, args: readonly string[]): Buffer | null {
  try {
    return execFileSync(command, args, { maxBuffer: 1 << 28 });
  } catch (error) {
    const absent = error instanceof Error && 'code' in error && error.code === 'ENOENT';
    if (!absent || process.env['CI'] === 'true') throw error;
    console.warn(`${command} (${debian}) is not installed: what it would have shown was not checked`);
    return null;
  }
}

/** A dossier printed, as bytes. */
export async function pdfOf(dossier: Dossier, options: Omit<PdfOptions, 'file'>): Promise<Uint8Array> {
  const folder = temporaryFolder();
  try {
    const file = path.join(folder, 'dossier.pdf');
    await printPdf(dossier, { ...options, file });
    return new Uint8Array(readFileSync(file));
  } finally {
    rmSync(folder, { recursive: true });
  }
}

/** A new folder below the system's temporary one. */
export function temporaryFolder(): string {
  return mkdtempSync(path.join(tmpdir(), 'sillbook-pdf-'));
}

/** Writes bytes as a PDF into a folder and gives its path. */
export function saved(bytes: Uint8Array, folder: string, name = 'dossier.pdf'): string {
  const file = path.join(folder, name);
  writeFileSync(file, bytes);
  return file;
}

/** A dictionary entry, looked up. Throws where it is missing: the test then fails by name. */
export function entry(dictionary: PDFDict, key: string): PDFObject {
  const value = dictionary.lookup(PDFName.of(key));
  if (!value) throw new Error(`/${key} is missing`);
  return value;
}

/** A dictionary below a dictionary. */
export function dictionary(of: PDFDict, key: string): PDFDict {
  return of.lookup(PDFName.of(key), PDFDict);
}

/** An array below a dictionary, its elements looked up. */
export function elements(of: PDFDict, key: string): PDFObject[] {
  const array = of.lookup(PDFName.of(key), PDFArray);
  return array.asArray().map((_, index) => array.lookup(index) as PDFObject);
}

/** The drawing operators of a page. */
export function contentOf(pdf: PDFDocument, page: number): string {
  const stream = pdf.getPage(page).node.lookup(PDFName.of('Contents'));
  if (!(stream instanceof PDFRawStream)) throw new Error('A page has no content stream');
  return Buffer.from(decodePDFRawStream(stream).decode()).toString('latin1');
}

/** The parent tree: reference(s) to structure elements by key. */
export function parentTree(pdf: PDFDocument): Map<number, PDFObject> {
  const nums = dictionary(dictionary(pdf.catalog, 'StructTreeRoot'), 'ParentTree').lookup(PDFName.of('Nums'), PDFArray);
  const tree = new Map<number, PDFObject>();
  for (let index = 0; index < nums.size(); index += 2) tree.set(nums.lookup(index, PDFNumber).asNumber(), nums.get(index + 1));
  return tree;
}

/** The index of the page a reference stands for, -1 where it is none. */
export function pageIndex(pdf: PDFDocument, ref: PDFObject): number {
  return pdf.getPages().findIndex((page) => ref instanceof PDFRef && page.ref === ref);
}

/** A page rendered grey by pdftoppm: one byte for each pixel, 0 black. Null without poppler. */
export function rendered(file: string, page: number, dpi: number): { width: number; height: number; pixels: Uint8Array } | null {
  const image = poppler('pdftoppm', ['-r', String(dpi), '-gray', '-f', String(page), '-l', String(page), file]);
  if (!image) return null;
  // P5 <width> <height> 255, then the pixels
  const head = /^P5\s+(\d+)\s+(\d+)\s+255\s/.exec(image.subarray(0, 64).toString('latin1'));
  if (!head) throw new Error('pdftoppm gave no PGM image');
  return { width: Number(head[1]), height: Number(head[2]), pixels: image.subarray(head[0].length) };
}
