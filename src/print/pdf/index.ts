import { createHash } from 'node:crypto';
import { PDFDocument } from 'pdf-lib';
import type { Dossier } from '../../model/dossier.ts';
import type { Notice } from '../../model/notice.ts';
import { sectionStrips } from './blocks.ts';
import { contentsStrips, coverStrips } from './cover.ts';
import { drawPages, embed } from './draw.ts';
import { openFonts } from './fonts.ts';
import type { Fonts } from './fonts.ts';
import type { Layout, Tag } from './items.ts';
import { geometryOf } from './look.ts';
import type { Geometry } from './look.ts';
import { addMetadata } from './metadata.ts';
import { addLinks, writeOutline } from './navigation.ts';
import { paginate } from './paginate.ts';
import { addRunning } from './running.ts';
import type { Setting } from './strips.ts';
import { emptyTree, writeTree } from './tags.ts';

export interface PdfOptions {
  /** Folder that the renditions' `file` paths start from. */
  pictureFolder: string;
  /** A4 unless said. */
  size?: 'A4' | 'Letter';
  /** Called for each character no font has; it is printed as its code point. */
  report?: (notice: Notice) => void;
}

/**
 * Prints a dossier as one tagged PDF, laid out after PDF/A-2a and PDF/UA-1. The same dossier and pictures give the same
 * bytes on any machine. Throws on our own mistakes only: a link without target, an anchor given twice, a figure or
 * rendition that is not there.
 */
export async function printPdf(dossier: Dossier, options: PdfOptions): Promise<Uint8Array> {
  const geometry = geometryOf(options.size ?? 'A4');
  const fonts = openFonts();
  const root: Tag = { role: 'Document', parent: null };
  const layout = layOut(dossier, fonts, geometry, root);
  for (const notice of fonts.missing()) options.report?.(notice);

  const pdf = await PDFDocument.create({ updateMetadata: false });
  const tree = emptyTree(root, layout.pages.length);
  const embedded = await embed(pdf, layout, fonts, options.pictureFolder);
  const pages = drawPages(pdf, layout, fonts, embedded, tree, geometry);
  addLinks(pdf, layout, tree, pages, geometry);
  const written = writeTree(pdf.context, tree, pages);
  const outline = writeOutline(pdf.context, layout, written.nodes, pages, geometry);
  const content = createHash('sha256').update(JSON.stringify([dossier, embedded.hashes, geometry])).digest('hex');
  await addMetadata(pdf, dossier, { tree: written.root, outline, seed: content });
  return pdf.save({ addDefaultPage: false, updateFieldAppearances: false, objectsPerTick: Number.POSITIVE_INFINITY });
}

/** The pages of a dossier with everything placed, before a byte is drawn. */
export function layOut(dossier: Dossier, fonts: Fonts, geometry: Geometry, root: Tag): Layout {
  const setting: Setting = {
    fonts,
    photos: new Map(dossier.photos.map((photo) => [photo.id, photo])),
    bodyHeight: geometry.bottom - geometry.top,
  };
  const frame = { x: geometry.left, width: geometry.bodyWidth, tag: root };
  const strips = [...coverStrips(setting, dossier, frame), ...contentsStrips(setting, dossier, frame), ...dossier.sections.flatMap((section, index) => sectionStrips(setting, { ...section, breakBefore: section.breakBefore || index === 0 }, frame))];
  const layout = paginate(strips, geometry);
  addRunning(layout, dossier, fonts, geometry);
  return layout;
}
