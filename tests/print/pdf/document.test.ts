import { execFileSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { readFileSync, readdirSync } from 'node:fs';
import path from 'node:path';
import { PDFArray, PDFDict, PDFDocument, PDFHexString, PDFName, PDFNumber, PDFRawStream, PDFRef } from 'pdf-lib';
import { beforeAll, expect, test } from 'vitest';
import { dossierSchema } from '../../../src/model/dossier.ts';
import type { Dossier } from '../../../src/model/dossier.ts';
import type { Notice } from '../../../src/model/notice.ts';
import { sampleDossier, sampleFindings, writeSamplePictures } from '../sample-dossier.ts';
import { contentOf, dictionary, elements, entry, pageIndex, parentTree, poppler, pdfOf, saved, temporaryFolder } from './tools.ts';

const folder = temporaryFolder();
const notices: Notice[] = [];
let bytes: Uint8Array;
let pdf: PDFDocument;

beforeAll(async () => {
  await writeSamplePictures(folder);
  bytes = await pdfOf(sampleDossier(), { pictureFolder: folder, report: (notice) => notices.push(notice) });
  pdf = await PDFDocument.load(bytes, { updateMetadata: false });
});

/** The sample with one more paragraph in a section of its own. */
function withSection(id: string, href: string): Dossier {
  const dossier = sampleDossier();
  dossier.sections.push({ id, title: 'One more', page: 'more', breakBefore: false, blocks: [{ type: 'paragraph', inline: [{ text: 'there', href }] }] });
  return dossier;
}

function decoded(object: unknown): string {
  return object instanceof PDFHexString ? object.decodeText() : '';
}

test('the sample is a dossier', () => {
  expect(dossierSchema.safeParse(sampleDossier()).error).toBeUndefined();
});

test('it opens, in A4 and Letter, with about the pages the content takes', async () => {
  expect(pdf.getPageCount()).toBeGreaterThan(12);
  expect(pdf.getPageCount()).toBeLessThan(20);
  expect(pdf.getPage(0).getSize()).toEqual({ width: 595.28, height: 841.89 });
  const letter = await PDFDocument.load(await pdfOf(sampleDossier(), { pictureFolder: folder, size: 'Letter' }));
  expect(letter.getPage(0).getSize()).toEqual({ width: 612, height: 792 });
});

test('the outline has every section and heading, nested, and leads to their pages', () => {
  const titles: string[] = [];
  const walk = (parent: PDFDict, depth: number): void => {
    for (let item = parent.lookupMaybe(PDFName.of('First'), PDFDict); item; item = item.lookupMaybe(PDFName.of('Next'), PDFDict)) {
      titles.push(`${'  '.repeat(depth)}${decoded(entry(item, 'Title'))}`);
      expect(pageIndex(pdf, item.lookup(PDFName.of('Dest'), PDFArray).get(0))).toBeGreaterThan(0);
      walk(item, depth + 1);
    }
  };
  walk(dictionary(pdf.catalog, 'Outlines'), 0);
  expect(titles).toEqual([
    'In short', '  Not seen', 'Contents', 'First steps, in order', 'Zones', 'Sill, left', '  How likely it is through', '  Openings', '    A heading that skips a level',
    'Bulkhead', '  What was typed', 'Order of work and cautions', 'Photos', 'Originals and their hashes',
  ]);
});

test('pdftotext finds every finding in one piece, and other scripts', () => {
  const text = poppler('pdftotext', ['-enc', 'UTF-8', saved(bytes, folder), '-']);
  if (!text) return;
  const words = text.toString('utf8').replace(/\s+/g, ' ');
  for (const finding of sampleFindings) expect(words).toContain(finding);
  for (const piece of ['σκουριά κάτω από το δάπεδο', 'ржавчина под порогом', 'a hole <5 mm & a <seam> open', 'A spanner [U+1F527], an arrow']) expect(words).toContain(piece);
  expect(words).toContain('page 3 of 13');
});

test('what no font has is printed as its code point and reported', () => {
  expect(notices.map((notice) => notice.rule)).toEqual(Array.from({ length: notices.length }, () => 'glyph-missing'));
  expect(notices.map((notice) => /U\+[0-9A-F]+/.exec(notice.found)?.[0])).toEqual(['U+2192', 'U+1F3FD', 'U+1F44D', 'U+1F527']);
});

test('the same dossier gives the same bytes, in another time zone and process too', async () => {
  const hash = createHash('sha256').update(bytes).digest('hex');
  const again = await pdfOf(sampleDossier(), { pictureFolder: folder });
  expect(createHash('sha256').update(again).digest('hex')).toBe(hash);
  const root = path.resolve(import.meta.dirname, '../../..');
  const program = `
    import { createHash } from 'node:crypto';
    import { sampleDossier } from './tests/print/sample-dossier.ts';
    import { pdfOf } from './tests/print/pdf/tools.ts';
    const bytes = await pdfOf(sampleDossier(), { pictureFolder: process.argv[1] });
    process.stdout.write(createHash('sha256').update(bytes).digest('hex'));`;
  const elsewhere = execFileSync(process.execPath, ['--input-type=module', '-e', program, folder], { cwd: root, env: { ...process.env, TZ: 'Pacific/Auckland' } });
  expect(elsewhere.toString()).toBe(hash);
});

test('every link leads to a page of the document or to an address', () => {
  const targets = { inside: 0, outside: 0 };
  pdf.getPages().forEach((page) => {
    if (!page.node.has(PDFName.of('Annots'))) return;
    for (const annotation of elements(page.node, 'Annots') as PDFDict[]) {
      expect(decoded(entry(annotation, 'Contents'))).not.toBe('');
      const action = annotation.lookupMaybe(PDFName.of('A'), PDFDict);
      if (action) {
        expect(decoded(entry(action, 'URI'))).toBe('https://www.hse.gov.uk/mvr/');
        targets.outside += 1;
      } else {
        // Nothing leads to the cover; the summary stands right after it.
        expect(pageIndex(pdf, annotation.lookup(PDFName.of('Dest'), PDFArray).get(0))).toBeGreaterThan(0);
        targets.inside += 1;
      }
    }
  });
  expect(targets.outside).toBe(2);
  // 8 sections twice in the contents, 5 zones twice, and the links in the text.
  expect(targets.inside).toBeGreaterThanOrEqual(8 * 2 + 5 * 2 + 4);
});

test('a link without target, an unknown scheme and an anchor given twice are our mistakes', async () => {
  const printing = (dossier: Dossier): Promise<Uint8Array> => pdfOf(dossier, { pictureFolder: folder });
  await expect(printing(withSection('more', '#nowhere'))).rejects.toThrow('#nowhere');
  await expect(printing(withSection('more', 'javascript:alert(1)'))).rejects.toThrow('javascript:');
  await expect(printing(withSection('summary', '#photos'))).rejects.toThrow('"summary"');
});

test('each page and annotation is in the parent tree, with as many entries as there are marks', () => {
  const tree = parentTree(pdf);
  pdf.getPages().forEach((page, index) => {
    const content = contentOf(pdf, index);
    const marks = [...content.matchAll(/\/MCID (\d+)/g)].map((match) => Number(match[1]));
    expect(marks).toEqual(marks.map((_, position) => position));
    expect(content.match(/BDC\n/g)?.length).toBe(content.match(/EMC\n/g)?.length);
    const key = page.node.lookup(PDFName.of('StructParents'), PDFNumber).asNumber();
    const parents = pdf.context.lookup(tree.get(key), PDFArray);
    expect(parents.size()).toBe(marks.length);
    for (const parent of parents.asArray()) expect(pdf.context.lookup(parent, PDFDict).get(PDFName.of('S'))).toBeInstanceOf(PDFName);
    if (!page.node.has(PDFName.of('Annots'))) return;
    for (const annotation of elements(page.node, 'Annots') as PDFDict[]) {
      const link = tree.get(annotation.lookup(PDFName.of('StructParent'), PDFNumber).asNumber());
      expect(pdf.context.lookup(link as PDFRef, PDFDict).get(PDFName.of('S'))).toBe(PDFName.of('Link'));
    }
  });
});

test('headings go down one level at a time, figures have text and place, rows have all their cells', () => {
  const levels: number[] = [];
  const figures: string[] = [];
  const walk = (node: PDFDict): void => {
    const role = entry(node, 'S').toString().slice(1);
    const kids = node.lookup(PDFName.of('K'), PDFArray);
    const below = kids.asArray().map((_, index) => kids.lookup(index)).filter((kid): kid is PDFDict => kid instanceof PDFDict && kid.has(PDFName.of('S')));
    if (/^H\d$/.test(role)) levels.push(Number(role.slice(1)));
    if (role === 'Figure') {
      figures.push(decoded(entry(node, 'Alt')));
      expect(dictionary(node, 'A').lookup(PDFName.of('BBox'), PDFArray).size()).toBe(4);
    }
    if (role === 'Table') {
      const cells = below.filter((row) => entry(row, 'S') === PDFName.of('TR')).map((row) => row.lookup(PDFName.of('K'), PDFArray).size());
      expect(new Set(cells).size).toBe(1);
    }
    below.forEach(walk);
  };
  walk((elements(dictionary(pdf.catalog, 'StructTreeRoot'), 'K') as PDFDict[])[0] as PDFDict);
  levels.forEach((level, index) => expect(level - (levels[index - 1] ?? 0)).toBeLessThanOrEqual(1));
  // Large figures of photos that can be shown, the bars of the outlook, then the figures of the index.
  expect(figures).toHaveLength(4 + 8 + 6);
  expect(figures[0]).toBe(sampleFindings[0]);
});

test('photos are the rendition files byte for byte, each once', () => {
  const files = new Set(readdirSync(path.join(folder, 'photos')).map((name) => createHash('sha256').update(readFileSync(path.join(folder, 'photos', name))).digest('hex')));
  const streams = pdf.context.enumerateIndirectObjects().flatMap(([, object]) => (object instanceof PDFRawStream && object.dict.get(PDFName.of('Subtype')) === PDFName.of('Image') ? [createHash('sha256').update(object.contents).digest('hex')] : []));
  // Four large ones from the middle rendition, six of the index from the small one.
  expect(streams).toHaveLength(10);
  expect(new Set(streams).size).toBe(10);
  for (const stream of streams) expect(files).toContain(stream);
});

test('one picture under two names is embedded once', async () => {
  const dossier = sampleDossier();
  for (const photo of dossier.photos) photo.renditions = photo.renditions.map((rendition) => ({ ...rendition, file: 'photos/a1-480.jpg' }));
  const same = await PDFDocument.load(await pdfOf(dossier, { pictureFolder: folder }));
  const images = same.context.enumerateIndirectObjects().filter(([, object]) => object instanceof PDFRawStream && object.dict.get(PDFName.of('Subtype')) === PDFName.of('Image'));
  expect(images).toHaveLength(1);
});

test('Info and XMP say the same, dated by the issue; language, title bar and colours are declared', () => {
  const xmp = pdf.catalog.lookup(PDFName.of('Metadata')) as PDFRawStream;
  const packet = Buffer.from(xmp.contents).toString('utf8');
  expect(xmp.dict.has(PDFName.of('Filter'))).toBe(false);
  for (const value of [pdf.getTitle(), pdf.getAuthor(), pdf.getSubject(), pdf.getCreator(), pdf.getProducer()]) expect(packet).toContain(`>${value}<`);
  expect(packet).toContain('<pdfaid:part>2</pdfaid:part><pdfaid:conformance>A</pdfaid:conformance><pdfuaid:part>1</pdfuaid:part>');
  expect(packet).toContain('<xmp:CreateDate>2026-03-15T00:00:00Z</xmp:CreateDate>');
  expect(pdf.getCreationDate()?.toISOString()).toBe('2026-03-15T00:00:00.000Z');
  expect(entry(pdf.catalog, 'Lang').toString()).toContain('en-GB');
  expect(dictionary(pdf.catalog, 'ViewerPreferences').get(PDFName.of('DisplayDocTitle'))?.toString()).toBe('true');
  expect(elements(pdf.catalog, 'OutputIntents')).toHaveLength(1);
  expect(pdf.context.trailerInfo.ID).toBeDefined();
});

test('a draft of an undated visit has no date, says DRAFT and does not ask the clock', async () => {
  const draft = await pdfOf({ ...sampleDossier(), status: { kind: 'draft' }, seenOn: null, author: '' }, { pictureFolder: folder });
  const loaded = await PDFDocument.load(draft, { updateMetadata: false });
  expect(loaded.getCreationDate()).toBeUndefined();
  expect(loaded.getAuthor()).toBeUndefined();
  const text = poppler('pdftotext', ['-f', '1', '-l', '3', saved(draft, folder, 'draft.pdf'), '-']);
  if (text) expect(text.toString().match(/DRAFT/g)?.length).toBe(3);
});
