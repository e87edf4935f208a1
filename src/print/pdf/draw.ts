import { createHash } from 'node:crypto';
import { JpegEmbedder, PDFName, PDFRawStream, PDFStream } from 'pdf-lib';
import type { PDFDocument, PDFFont, PDFRef } from 'pdf-lib';
import { fileReader } from './file.ts';
import type { PdfFile } from './file.ts';
import { embeddable } from './fonts.ts';
import type { Fonts, Shaped } from './fonts.ts';
import type { BoxItem, DrawingItem, Item, Layout, PictureItem, RangeItem, StateItem, TextItem } from './items.ts';
import { colours, faces, stateColours } from './look.ts';
import type { Face, Geometry } from './look.ts';
import { markOperators } from './marks.ts';
import { axisPath, barPath, colourOf, round, shapePath } from './shapes.ts';
import { markOn } from './tags.ts';
import type { Tree } from './tags.ts';

/** Everything a page's content refers to by name. */
export interface Resources {
  font(face: Face): string;
  encoded(shaped: Shaped): readonly string[];
  picture(file: string): string;
  pageNumberOf(anchor: string): string;
  shape(text: string, face: Face): Shaped;
}

/** Fonts and pictures of one document, embedded on first use; each distinct picture once, its bytes as they are. */
export interface Embedded {
  fonts: ReadonlyMap<Face, PDFFont>;
  pictures: Map<string, { name: string; ref: PDFRef }>;
  /** SHA-256 of the picture streams, in order of first use. */
  hashes: string[];
}

const fontNames: Record<Face, { key: string; tag: string; name: string }> = {
  regular: { key: 'F0', tag: 'SILLRA', name: 'NotoSans-Regular' },
  italic: { key: 'F1', tag: 'SILLIA', name: 'NotoSans-Italic' },
  bold: { key: 'F2', tag: 'SILLBA', name: 'NotoSans-SemiBold' },
  boldItalic: { key: 'F3', tag: 'SILLBB', name: 'NotoSans-SemiBoldItalic' },
};

/**
 * Embeds what the layout uses; pictures go to the file at once.
 * @param pathOf where a rendition lies on the disk. Throws when one named in the dossier is not there.
 */
export async function embed(pdf: PDFDocument, file: PdfFile, layout: Layout, fonts: Fonts, pathOf: (rendition: string) => string): Promise<Embedded> {
  const items = layout.pages.flatMap((page) => [...page.items, ...page.head, ...page.foot]);
  const used = new Set(items.flatMap((item) => (item.kind === 'text' ? item.runs.map((run) => run.shaped.face) : [])));
  const embeddedFonts = new Map<Face, PDFFont>();
  for (const face of faces.filter((each) => used.has(each))) {
    const opened = fonts.opened(face);
    // The document uses fontkit's font that measured the lines, so what is drawn is what was measured.
    pdf.registerFontkit({ create: () => embeddable(opened) as never });
    const { tag, name } = fontNames[face];
    embeddedFonts.set(face, await pdf.embedFont(opened.bytes, { subset: true, customName: `${tag}+${name}` }));
  }
  const pictures: Embedded['pictures'] = new Map();
  const byHash = new Map<string, { name: string; ref: PDFRef }>();
  const read = fileReader();
  for (const rendition of new Set(items.flatMap((item) => (item.kind === 'picture' ? [item.file] : [])))) {
    const bytes = read(pathOf(rendition));
    const hash = createHash('sha256').update(bytes).digest('hex');
    let picture = byHash.get(hash);
    if (!picture) {
      picture = { name: `I${byHash.size}`, ref: await embedPicture(pdf, file, bytes) };
      byHash.set(hash, picture);
    }
    pictures.set(rendition, picture);
  }
  return { fonts: embeddedFonts, pictures, hashes: [...byHash.keys()] };
}

/** Bytes of a JPEG among which its size stands: what comes before is colour tables and the like. */
const headBytes = 1 << 16;

/** Writes a JPEG as it is; pdf-lib tells its size and colours from its head. */
async function embedPicture({ context }: PDFDocument, file: PdfFile, bytes: Uint8Array): Promise<PDFRef> {
  // A copy: pdf-lib misreads views into a larger buffer.
  const head = await JpegEmbedder.for(bytes.slice(0, headBytes));
  const ref = await head.embedIntoContext(context);
  const { dict } = context.lookup(ref, PDFStream);
  context.delete(ref);
  file.write(ref, PDFRawStream.of(dict, bytes));
  return ref;
}

/** Adds the pages with their content streams; the structure tree learns what stands where. */
export function drawPages(pdf: PDFDocument, file: PdfFile, layout: Layout, fonts: Fonts, embedded: Embedded, tree: Tree, geometry: Geometry): PDFRef[] {
  const cache = new Map<Shaped, readonly string[]>();
  const encoded = (shaped: Shaped): readonly string[] => {
    let glyphs = cache.get(shaped);
    if (!glyphs) {
      glyphs = embedded.fonts.get(shaped.face)?.encodeText(shaped.text).asString().match(/.{4}/g) ?? [];
      cache.set(shaped, glyphs);
    }
    return glyphs;
  };
  return layout.pages.map((page, index) => {
    const usedFonts = new Map<string, PDFRef>();
    const usedPictures = new Map<string, PDFRef>();
    const resources: Resources = {
      encoded,
      shape: fonts.shape,
      font(face) {
        const { key } = fontNames[face];
        const font = embedded.fonts.get(face);
        if (font) usedFonts.set(key, font.ref);
        return key;
      },
      picture(rendition) {
        const picture = embedded.pictures.get(rendition);
        if (!picture) throw new Error(`The picture ${rendition} is not embedded`);
        usedPictures.set(picture.name, picture.ref);
        return picture.name;
      },
      pageNumberOf: (anchor) => String(destinationPage(layout, anchor) + 1),
    };
    const content = [
      artifact(page.head, '/Type /Pagination /Subtype /Header /Attached [/Top]', resources, geometry),
      artifact(page.items.filter(isDecoration), '/Type /Layout', resources, geometry),
      marked(page.items.filter((item) => !isDecoration(item)), index, tree, resources, geometry),
      artifact(page.foot, '/Type /Pagination /Subtype /Footer /Attached [/Bottom]', resources, geometry),
    ].join('');
    const sheet = pdf.addPage([geometry.width, geometry.height]);
    const { context } = pdf;
    const drawn = context.nextRef();
    file.write(drawn, context.flateStream(content));
    sheet.node.set(PDFName.of('Contents'), drawn);
    sheet.node.set(PDFName.of('Resources'), context.obj({ Font: Object.fromEntries(usedFonts), XObject: Object.fromEntries(usedPictures) }));
    sheet.node.set(PDFName.of('StructParents'), context.obj(index));
    sheet.node.set(PDFName.of('Tabs'), PDFName.of('S'));
    return sheet.ref;
  });
}

function destinationPage(layout: Layout, anchor: string): number {
  const destination = layout.anchors.get(anchor);
  if (!destination) throw new Error(`Nothing in the dossier has the anchor "${anchor}"`);
  return destination.page;
}

function isDecoration(item: Item): boolean {
  return item.kind === 'box' || item.kind === 'state' || (item.kind === 'text' && item.tag.role === 'Artifact');
}

/** Everything outside of the structure tree first: it lies below the words, and paragraphs stay one mark each. */
function artifact(items: readonly Item[], properties: string, resources: Resources, geometry: Geometry): string {
  if (items.length === 0) return '';
  return `/Artifact <<${properties}>> BDC\n${items.map((item) => operators(item, resources, geometry)).join('')}EMC\n`;
}

/** Content of the tree; neighbours of one node share a mark. */
function marked(items: readonly Item[], page: number, tree: Tree, resources: Resources, geometry: Geometry): string {
  let content = '';
  let open: TextItem['tag'] | null = null;
  for (const item of items) {
    if (item.kind !== 'text' && item.kind !== 'picture' && item.kind !== 'range' && item.kind !== 'drawing') continue;
    if (item.tag !== open) {
      if (open) content += 'EMC\n';
      content += `/${item.tag.role} <</MCID ${markOn(tree, item.tag, page)}>> BDC\n`;
      open = item.tag;
    }
    if (item.kind !== 'text') tree.boxes.set(item.tag, boxOf(item, geometry));
    content += operators(item, resources, geometry);
  }
  return open ? `${content}EMC\n` : content;
}

function boxOf(item: PictureItem | RangeItem | DrawingItem, geometry: Geometry): number[] {
  const top = geometry.height - item.y;
  return [item.x, top - item.height, item.x + item.width, top].map((value) => Math.round(value * 100) / 100);
}

function operators(item: Item, resources: Resources, geometry: Geometry): string {
  switch (item.kind) {
    case 'text':
      return textOperators(item, resources, geometry);
    case 'picture': {
      const { x, y, width, height } = item;
      return `q ${round(width)} 0 0 ${round(height)} ${round(x)} ${round(geometry.height - y - height)} cm /${resources.picture(item.file)} Do Q\n${markOperators(item.marks ?? [], item, geometry.height)}`;
    }
    case 'box':
      return boxOperators(item, geometry);
    case 'state':
      return stateOperators(item, geometry);
    case 'range':
      return rangeOperators(item, geometry);
    case 'drawing':
      return `q 1 0 0 1 ${round(item.x)} ${round(geometry.height - item.y)} cm ${item.paths} Q\n`;
    case 'link':
      return '';
  }
}

function textOperators(item: TextItem, resources: Resources, geometry: Geometry): string {
  if (item.runs.length === 0) return '';
  let content = '';
  let set = '';
  let x = item.x;
  let strings = '';
  const show = (): void => {
    // Words between which nothing is moved are one string.
    if (strings) content += `[${strings.replaceAll('><', '')}] TJ\n`;
    strings = '';
  };
  for (const run of item.runs) {
    let { shaped } = run;
    if (run.pageOf) {
      // A space before it, so that it is not read as one with the words it stands away from.
      const number = resources.shape(` ${resources.pageNumberOf(run.pageOf)}`, shaped.face);
      if (!run.inText) x += ((shaped.width - number.width) * run.size) / 1000;
      shaped = number;
    }
    const state = `${colourOf(run.colour)} rg /${resources.font(shaped.face)} ${round(run.size)} Tf`;
    if (state !== set) {
      show();
      content += `${state} `;
      set = state;
    }
    strings += glyphStrings(shaped, resources.encoded(shaped));
  }
  show();
  return `BT 1 0 0 1 ${round(x)} ${round(geometry.height - item.y)} Tm ${content}ET\n`;
}

/** Hexadecimal glyph strings with kerning between them, as TJ takes them. */
function glyphStrings(shaped: Shaped, glyphs: readonly string[]): string {
  let strings = '';
  let open = false;
  const kern = (index: number): void => {
    const amount = shaped.kerns[index] ?? 0;
    if (Math.abs(amount) < 0.5) return;
    strings += `${open ? '>' : ''}${round(amount)}`;
    open = false;
  };
  glyphs.forEach((glyph, index) => {
    kern(index);
    strings += `${open ? '' : '<'}${glyph}`;
    open = true;
  });
  kern(glyphs.length);
  return open ? `${strings}>` : strings;
}

function boxOperators(item: BoxItem, geometry: Geometry): string {
  const { x, y, width, height, fill, stroke, strokeWidth } = item;
  const top = geometry.height - y;
  let content = '';
  if (fill) content += `${colourOf(fill)} rg ${round(x)} ${round(top - height)} ${round(width)} ${round(height)} re f\n`;
  if (!stroke) return content;
  const path = width === 0 || height === 0 ? `${round(x)} ${round(top)} m ${round(x + width)} ${round(top - height)} l` : `${round(x)} ${round(top - height)} ${round(width)} ${round(height)} re`;
  return `${content}${colourOf(stroke)} RG ${round(strokeWidth ?? 0.5)} w ${path} S\n`;
}

function stateOperators(item: StateItem, geometry: Geometry): string {
  const colour = colourOf(stateColours[item.outcome]);
  return `${colour} rg ${colour} RG ${shapePath(item.outcome, item.x, geometry.height - item.y - item.size, item.size)}\n`;
}

function rangeOperators({ x, y, scale, bar }: RangeItem, geometry: Geometry): string {
  const ink = colourOf(colours.ink);
  const left = x + scale.dx;
  const top = geometry.height - y - scale.dy;
  return `${colourOf(colours.slate)} RG ${axisPath(left, top, scale.width)} ${ink} rg ${ink} RG ${barPath(bar, left, top, scale.width)}\n`;
}
