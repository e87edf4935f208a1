import { createHash } from 'node:crypto';
import { PDFHexString, PDFName, PDFString } from 'pdf-lib';
import type { PDFDocument, PDFRef } from 'pdf-lib';
import { byCodeUnit } from '../../model/order.ts';
import type { PdfFile } from './file.ts';

/** A file that travels inside of the PDF. */
export interface Attachment {
  /** As a reader of PDF offers to save it; letters of ASCII. */
  name: string;
  /** MIME type. */
  type: string;
  /** What it is to the document (ISO 19005-3, Annex E). */
  relationship: 'Source' | 'Data' | 'Supplement';
  description: string;
  bytes: Uint8Array;
}

/**
 * Attaches files to the document as PDF/A-3 wants them: typed, described, tied to the document by `AF`, with size, MD5
 * (ISO 32000-1, table 46) and the document's own date, where it has one.
 */
export function attach(pdf: PDFDocument, file: PdfFile, attachments: readonly Attachment[], date: Date | null): void {
  const { catalog, context } = pdf;
  const specifications = attachments.toSorted((a, b) => byCodeUnit(a.name, b.name)).map((attachment): [PDFString, PDFRef] => {
    const { name, type, relationship, description, bytes } = attachment;
    const parameters = context.obj({ Size: bytes.length });
    parameters.set(PDFName.of('CheckSum'), PDFHexString.of(createHash('md5').update(bytes).digest('hex')));
    if (date) parameters.set(PDFName.of('ModDate'), PDFString.fromDate(date));
    const content = context.nextRef();
    file.write(content, context.flateStream(bytes, { Type: 'EmbeddedFile', Subtype: type, Params: parameters }));
    const specification = context.obj({ Type: 'Filespec', AFRelationship: relationship, EF: { F: content, UF: content } });
    specification.set(PDFName.of('F'), PDFString.of(name));
    specification.set(PDFName.of('UF'), PDFHexString.fromText(name));
    specification.set(PDFName.of('Desc'), PDFHexString.fromText(description));
    return [PDFString.of(name), context.register(specification)];
  });
  catalog.set(PDFName.of('AF'), context.obj(specifications.map(([, ref]) => ref)));
  catalog.set(PDFName.of('Names'), context.obj({ EmbeddedFiles: { Names: specifications.flat() } }));
}
