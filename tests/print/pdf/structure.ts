import { PDFArray, PDFBool, PDFDict, PDFDocument, PDFHexString, PDFName, PDFNumber, PDFRawStream, PDFRef, PDFString, decodePDFRawStream } from 'pdf-lib';
import type { PDFObject } from 'pdf-lib';
import { parentTree } from './tools.ts';

/**
 * What a PDF lacks of an archive that everyone can read, by structure alone: what PDF/A-2 and 3 (ISO 19005) and PDF/UA-1
 * (ISO 14289-1) ask of language, marking, structure tree, text alternatives, headings, links, colours and metadata. Not
 * all they ask: veraPDF knows that (vera.ts). Empty where nothing is missing.
 */
export async function faultsIn(bytes: Uint8Array): Promise<string[]> {
  const pdf = await PDFDocument.load(bytes, { updateMetadata: false });
  return [...new Set([...documentFaults(pdf), ...metadataFaults(pdf), ...treeFaults(pdf), ...pageFaults(pdf)])];
}

function documentFaults({ catalog, context }: PDFDocument): string[] {
  const faults: string[] = [];
  if (textOf(catalog.lookup(PDFName.of('Lang'))) === '') faults.push('no language');
  const marked = catalog.lookupMaybe(PDFName.of('MarkInfo'), PDFDict)?.lookup(PDFName.of('Marked'));
  if (marked !== PDFBool.True) faults.push('not marked');
  const shown = catalog.lookupMaybe(PDFName.of('ViewerPreferences'), PDFDict)?.lookup(PDFName.of('DisplayDocTitle'));
  if (shown !== PDFBool.True) faults.push('title not shown');
  const intents = objectsIn(catalog.lookup(PDFName.of('OutputIntents')));
  if (!intents.some((intent) => intent instanceof PDFDict && nameOf(intent, 'S') === 'GTS_PDFA1' && intent.lookup(PDFName.of('DestOutputProfile')) instanceof PDFRawStream)) faults.push('no output intent');
  const id = context.lookupMaybe(context.trailerInfo.ID, PDFArray);
  if (id?.size() !== 2) faults.push('no identifier');
  return faults;
}

function metadataFaults(pdf: PDFDocument): string[] {
  const stream = pdf.catalog.lookup(PDFName.of('Metadata'));
  const xmp = stream instanceof PDFRawStream ? Buffer.from(stream.contents).toString('utf8') : '';
  const faults: string[] = [];
  if (!/<pdfaid:part>[23]<\/pdfaid:part><pdfaid:conformance>A</.test(xmp)) faults.push('XMP without PDF/A');
  if (!xmp.includes('<pdfuaid:part>1</pdfuaid:part>')) faults.push('XMP without PDF/UA');
  const said = (pattern: RegExp): string => (pattern.exec(xmp)?.[1] ?? '').replaceAll('&lt;', '<').replaceAll('&gt;', '>').replaceAll('&amp;', '&');
  const date = (when: Date | undefined): string => when?.toISOString().replace('.000Z', 'Z') ?? '';
  const pairs = [
    [pdf.getTitle(), said(/<dc:title>.*?<rdf:li[^>]*>(.*?)<\/rdf:li>/s)],
    [pdf.getAuthor(), said(/<dc:creator>.*?<rdf:li>(.*?)<\/rdf:li>/s)],
    [pdf.getSubject(), said(/<dc:description>.*?<rdf:li[^>]*>(.*?)<\/rdf:li>/s)],
    [pdf.getCreator(), said(/<xmp:CreatorTool>(.*?)</)],
    [pdf.getProducer(), said(/<pdf:Producer>(.*?)</)],
    [date(pdf.getCreationDate()), said(/<xmp:CreateDate>(.*?)</)],
    [date(pdf.getModificationDate()), said(/<xmp:ModifyDate>(.*?)</)],
  ];
  if (pairs.some(([info = '', packet]) => info !== packet) || !pdf.getTitle()) faults.push('Info and XMP differ');
  return faults;
}

function treeFaults(pdf: PDFDocument): string[] {
  const root = pdf.catalog.lookupMaybe(PDFName.of('StructTreeRoot'), PDFDict);
  const nodes = root ? objectsIn(root.lookup(PDFName.of('K'))).flatMap(nodesFrom) : [];
  if (nodes.length < 2) return ['no structure tree'];
  const faults: string[] = [];
  let level = 0;
  for (const node of nodes) {
    const role = nameOf(node, 'S');
    if (role === 'Figure' && textOf(node.lookup(PDFName.of('Alt'))) === '') faults.push('figure without text');
    if (role === 'TH' && !nameOf(node.lookupMaybe(PDFName.of('A'), PDFDict), 'Scope')) faults.push('table header without scope');
    const heading = /^H([1-6])$/.exec(role)?.[1];
    if (heading && Number(heading) > level + 1) faults.push('heading level left out');
    if (heading) level = Number(heading);
  }
  return faults;
}

/** An element of the tree and all below it, in reading order. */
function nodesFrom(element: PDFObject | undefined): PDFDict[] {
  if (!(element instanceof PDFDict) || !element.has(PDFName.of('S'))) return [];
  return [element, ...objectsIn(element.lookup(PDFName.of('K'))).flatMap(nodesFrom)];
}

function pageFaults(pdf: PDFDocument): string[] {
  const tree = pdf.catalog.has(PDFName.of('StructTreeRoot')) ? parentTree(pdf) : new Map<number, PDFObject>();
  return pdf.getPages().flatMap(({ node }) => {
    const faults = [...contentFaults(node.lookup(PDFName.of('Contents')))];
    if (nameOf(node, 'Tabs') !== 'S') faults.push('tab order not that of the structure');
    const annotations = node.lookupMaybe(PDFName.of('Annots'), PDFArray);
    for (const ref of annotations?.asArray() ?? []) {
      const link = pdf.context.lookup(ref, PDFDict);
      if (textOf(link.lookup(PDFName.of('Contents'))) === '') faults.push('link without words');
      const parent = pdf.context.lookup(tree.get(link.lookupMaybe(PDFName.of('StructParent'), PDFNumber)?.asNumber() ?? -1));
      const kids = parent instanceof PDFDict && nameOf(parent, 'S') === 'Link' ? objectsIn(parent.lookup(PDFName.of('K'))) : [];
      if (!kids.some((kid) => kid instanceof PDFDict && nameOf(kid, 'Type') === 'OBJR' && kid.get(PDFName.of('Obj')) === ref)) faults.push('link outside of the tree');
    }
    return faults;
  });
}

const token = /<<|>>|<[0-9A-Fa-f\s]*>|\((?:\\.|[^\\()])*\)|\[|\]|\/[^\s<>[\]()/%]*|[^\s<>[\]()/%]+/g;
/** Operators that leave something on the page (ISO 32000-1, tables 60, 107 and 87). */
const painting = new Set(['f', 'F', 'f*', 'S', 's', 'B', 'B*', 'b', 'b*', 'sh', 'Do', 'Tj', 'TJ', "'", '"']);

/** What is drawn outside of the tree without being called an artifact, and glyph 0, which says "no such letter". */
function contentFaults(stream: PDFObject | undefined): string[] {
  if (!(stream instanceof PDFRawStream)) return ['page without content'];
  const faults: string[] = [];
  const open: boolean[] = [];
  let operands: string[] = [];
  for (const [word] of Buffer.from(decodePDFRawStream(stream).decode()).toString('latin1').matchAll(token)) {
    if (/^[<>([\]/+\-.\d]/.test(word)) {
      operands.push(word);
      if (/^<(?:[0-9A-Fa-f]{4})*?0000(?:[0-9A-Fa-f]{4})*>$/.test(word)) faults.push('letter without a glyph');
      continue;
    }
    if (word === 'BDC' || word === 'BMC') open.push(operands[0] === '/Artifact' || operands.includes('/MCID'));
    if (word === 'EMC') open.pop();
    if (painting.has(word) && !open.includes(true)) faults.push('content outside of the tree');
    operands = [];
  }
  return faults;
}

function objectsIn(object: PDFObject | undefined): (PDFObject | undefined)[] {
  if (!(object instanceof PDFArray)) return object ? [object] : [];
  return object.asArray().map((_, index) => object.lookup(index));
}

function nameOf(dictionary: PDFDict | undefined, key: string): string {
  const name = dictionary?.lookup(PDFName.of(key));
  return name instanceof PDFName ? name.decodeText() : '';
}

function textOf(object: PDFObject | undefined): string {
  return object instanceof PDFString || object instanceof PDFHexString ? object.decodeText() : '';
}

/** Where an entry of the catalog lies, to put another in its place. */
export function refIn(dictionary: PDFDict, key: string): PDFRef {
  const ref = dictionary.get(PDFName.of(key));
  if (!(ref instanceof PDFRef)) throw new Error(`/${key} is no reference`);
  return ref;
}

/** The first element of the tree with a role. Throws where there is none. */
export function firstOf(pdf: PDFDocument, role: string): PDFDict {
  const root = pdf.catalog.lookup(PDFName.of('StructTreeRoot'), PDFDict);
  const found = objectsIn(root.lookup(PDFName.of('K'))).flatMap(nodesFrom).find((node) => nameOf(node, 'S') === role);
  if (!found) throw new Error(`There is no ${role} in the tree`);
  return found;
}
