import { PDFArray, PDFDict, PDFDocument, PDFName, PDFRawStream, decodePDFRawStream } from 'pdf-lib';
import { firstOf, refIn } from './structure.ts';

/** A defect, what the checker of the structure calls it, and how it is put into a good PDF. */
export interface Defect {
  name: string;
  fault: string;
  plant(pdf: PDFDocument): void;
  /** veraPDF 1.31 does not look at it, in PDF/A-2a or PDF/UA-1. */
  unseen?: true;
}

/** The bytes of a PDF with a defect in it. */
export async function planting(good: Uint8Array, plant: Defect['plant']): Promise<Uint8Array> {
  const pdf = await PDFDocument.load(good, { updateMetadata: false });
  plant(pdf);
  return pdf.save({ updateFieldAppearances: false, addDefaultPage: false });
}

function rewriteXmp(pdf: PDFDocument, from: string | RegExp, to: string): void {
  const ref = refIn(pdf.catalog, 'Metadata');
  const stream = pdf.context.lookup(ref) as PDFRawStream;
  const packet = Buffer.from(stream.contents).toString('utf8');
  if (packet.replace(from, to) === packet) throw new Error('XMP holds nothing to replace');
  pdf.context.assign(ref, PDFRawStream.of(stream.dict, new Uint8Array(Buffer.from(packet.replace(from, to)))));
}

/** Page 3 is the first with findings on it. */
const page = 2;

function rewritePage(pdf: PDFDocument, change: (content: string) => string): void {
  const { node } = pdf.getPage(page);
  const content = Buffer.from(decodePDFRawStream(node.lookup(PDFName.of('Contents')) as PDFRawStream).decode()).toString('latin1');
  if (change(content) === content) throw new Error('The page holds nothing to replace');
  pdf.context.assign(refIn(node, 'Contents'), pdf.context.flateStream(Buffer.from(change(content), 'latin1')));
}

function firstLink(pdf: PDFDocument): PDFDict {
  const annotations = pdf.getPages().flatMap(({ node }) => node.lookupMaybe(PDFName.of('Annots'), PDFArray)?.asArray() ?? []);
  return pdf.context.lookup(annotations[0], PDFDict);
}

/** What goes wrong in PDFs that look well on a screen. */
export const defects: Defect[] = [
  { name: 'Lang taken out', fault: 'no language', plant: ({ catalog }) => catalog.delete(PDFName.of('Lang')) },
  { name: 'MarkInfo taken out', fault: 'not marked', plant: ({ catalog }) => catalog.delete(PDFName.of('MarkInfo')) },
  {
    name: 'structure tree emptied', fault: 'no structure tree', unseen: true,
    plant: ({ catalog, context }) => catalog.lookup(PDFName.of('StructTreeRoot'), PDFDict).set(PDFName.of('K'), context.obj([])),
  },
  { name: 'figure without Alt', fault: 'figure without text', plant: (pdf) => firstOf(pdf, 'Figure').delete(PDFName.of('Alt')) },
  { name: 'table header without Scope', fault: 'table header without scope', plant: (pdf) => firstOf(pdf, 'TH').delete(PDFName.of('A')) },
  { name: 'H2 made an H4', fault: 'heading level left out', plant: (pdf) => firstOf(pdf, 'H2').set(PDFName.of('S'), PDFName.of('H4')) },
  { name: 'link without Contents', fault: 'link without words', plant: (pdf) => firstLink(pdf).delete(PDFName.of('Contents')) },
  {
    name: 'link without OBJR', fault: 'link outside of the tree', unseen: true,
    plant: (pdf) => {
      const link = firstOf(pdf, 'Link');
      const kids = link.lookup(PDFName.of('K'), PDFArray).asArray().filter((kid) => !(pdf.context.lookup(kid) instanceof PDFDict));
      link.set(PDFName.of('K'), pdf.context.obj(kids));
    },
  },
  { name: 'output intent taken out', fault: 'no output intent', plant: ({ catalog }) => catalog.delete(PDFName.of('OutputIntents')) },
  { name: 'XMP without pdfaid', fault: 'XMP without PDF/A', plant: (pdf) => rewriteXmp(pdf, /<pdfaid:part>.*<\/pdfaid:conformance>/, '') },
  { name: 'XMP without pdfuaid', fault: 'XMP without PDF/UA', plant: (pdf) => rewriteXmp(pdf, '<pdfuaid:part>1</pdfuaid:part>', '') },
  { name: 'title of Info not that of XMP', fault: 'Info and XMP differ', unseen: true, plant: (pdf) => pdf.setTitle('Another title') },
  { name: 'a line drawn outside of the tree', fault: 'content outside of the tree', plant: (pdf) => rewritePage(pdf, (content) => `${content}0 0 m 90 90 l S\n`) },
  { name: 'tab order by rows', fault: 'tab order not that of the structure', plant: (pdf) => pdf.getPages().forEach(({ node }) => node.set(PDFName.of('Tabs'), PDFName.of('R'))) },
  { name: 'file name in the title bar', fault: 'title not shown', plant: ({ catalog }) => catalog.delete(PDFName.of('ViewerPreferences')) },
  { name: 'a letter the font lacks', fault: 'letter without a glyph', plant: (pdf) => rewritePage(pdf, (content) => content.replace(/<[0-9A-Fa-f]{4}/, '<0000')) },
  { name: 'identifier taken out', fault: 'no identifier', plant: ({ context }) => delete context.trailerInfo.ID },
];
