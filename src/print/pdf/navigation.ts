import { PDFArray, PDFHexString, PDFName } from 'pdf-lib';
import type { PDFContext, PDFDict, PDFDocument, PDFRef } from 'pdf-lib';
import type { Destination, Layout, LinkItem, Tag } from './items.ts';
import type { Geometry } from './look.ts';
import type { PdfFile } from './file.ts';
import { annotationOn } from './tags.ts';
import type { Tree } from './tags.ts';

/** Makes the links of all pages. Throws when an anchor is nowhere in the dossier: that mistake is ours. */
export function addLinks(pdf: PDFDocument, file: PdfFile, layout: Layout, tree: Tree, pages: readonly PDFRef[], geometry: Geometry): void {
  const { context } = pdf;
  layout.pages.forEach((page, index) => {
    const refs = page.items
      .filter((item) => item.kind === 'link')
      .map((item) => {
        const ref = context.nextRef();
        const key = annotationOn(tree, item.tag, index, ref);
        const annotation = context.obj({ Type: 'Annot', Subtype: 'Link', Rect: rectangle(item, geometry), Border: [0, 0, 0], F: 4, StructParent: key });
        annotation.set(PDFName.of('Contents'), PDFHexString.fromText(item.words || item.href));
        leadTo(context, annotation, item.href, layout, pages, geometry);
        file.write(ref, annotation);
        return ref;
      });
    if (refs.length > 0) pdf.getPage(index).node.set(PDFName.of('Annots'), context.obj(refs));
  });
}

function rectangle(item: LinkItem, geometry: Geometry): number[] {
  const top = geometry.height - item.y;
  return [item.x, top - item.height, item.x + item.width, top].map((value) => Math.round(value * 100) / 100);
}

function leadTo(context: PDFContext, annotation: PDFDict, href: string, layout: Layout, pages: readonly PDFRef[], geometry: Geometry): void {
  if (href.startsWith('#')) {
    const destination = layout.anchors.get(href.slice(1));
    if (!destination) throw new Error(`A link leads to "${href}", but nothing in the dossier has that anchor`);
    annotation.set(PDFName.of('Dest'), destinationArray(context, destination, pages, geometry));
    return;
  }
  if (!/^(https?|mailto|tel):/i.test(href)) throw new Error(`A link leads to "${href}", expected #anchor, http, https, mailto or tel`);
  const address = Buffer.from(new URL(href).href, 'latin1').toString('hex');
  const action = context.obj({ Type: 'Action', S: 'URI' });
  action.set(PDFName.of('URI'), PDFHexString.of(address));
  annotation.set(PDFName.of('A'), action);
}

function destinationArray(context: PDFContext, { page, y }: Destination, pages: readonly PDFRef[], geometry: Geometry): PDFArray {
  return context.obj([pages[page] as PDFRef, 'XYZ', null, Math.round(geometry.height - y), null]);
}

interface Entry {
  text: string;
  tag: Tag;
  level: number;
  at: Destination;
  ref: PDFRef;
  parent: PDFRef;
  below: Entry[];
}

/** Writes the outline of section titles and headings; gives its root. */
export function writeOutline(context: PDFContext, layout: Layout, nodes: ReadonlyMap<Tag, PDFRef>, pages: readonly PDFRef[], geometry: Geometry): PDFRef {
  const root = context.nextRef();
  const top: Entry[] = [];
  const open: Entry[] = [];
  for (const { level, text, tag, at } of layout.outline) {
    while ((open.at(-1)?.level ?? 0) >= level) open.pop();
    const above = open.at(-1);
    const entry: Entry = { text, tag, level, at, ref: context.nextRef(), parent: above?.ref ?? root, below: [] };
    (above?.below ?? top).push(entry);
    open.push(entry);
  }
  writeEntries(top);
  const outline = context.obj({ Type: 'Outlines', Count: top.length });
  linkEnds(outline, top);
  context.assign(root, outline);
  return root;

  function writeEntries(entries: readonly Entry[]): void {
    entries.forEach((entry, index) => {
      const item = context.obj({ Parent: entry.parent });
      item.set(PDFName.of('Title'), PDFHexString.fromText(entry.text));
      item.set(PDFName.of('Dest'), destinationArray(context, entry.at, pages, geometry));
      const node = nodes.get(entry.tag);
      if (node) item.set(PDFName.of('SE'), node);
      const before = entries[index - 1];
      const after = entries[index + 1];
      if (before) item.set(PDFName.of('Prev'), before.ref);
      if (after) item.set(PDFName.of('Next'), after.ref);
      // A negative count keeps the entries below folded.
      if (entry.below.length > 0) item.set(PDFName.of('Count'), context.obj(-entry.below.length));
      linkEnds(item, entry.below);
      context.assign(entry.ref, item);
      writeEntries(entry.below);
    });
  }
}

function linkEnds(dictionary: PDFDict, entries: readonly Entry[]): void {
  const first = entries[0];
  const last = entries.at(-1);
  if (!first || !last) return;
  dictionary.set(PDFName.of('First'), first.ref);
  dictionary.set(PDFName.of('Last'), last.ref);
}
