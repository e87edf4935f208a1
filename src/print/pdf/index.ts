import { createHash } from 'node:crypto';
import path from 'node:path';
import { PDFDocument } from 'pdf-lib';
import type { Dossier } from '../../model/dossier.ts';
import type { Notice } from '../../model/notice.ts';
import { mailPictures } from '../pictures/mail.ts';
import { attach } from './attachments.ts';
import type { Attachment } from './attachments.ts';
import { sectionStrips } from './blocks.ts';
import { contentsStrips, coverStrips } from './cover.ts';
import type { Inside } from './cover.ts';
import { drawPages, embed } from './draw.ts';
import { openPdfFile } from './file.ts';
import { openFonts } from './fonts.ts';
import type { Fonts } from './fonts.ts';
import type { Layout, Tag } from './items.ts';
import { geometryOf } from './look.ts';
import type { Geometry } from './look.ts';
import { addMetadata, documentDate } from './metadata.ts';
import { addLinks, writeOutline } from './navigation.ts';
import { openingStrips } from './opening.ts';
import { paginate } from './paginate.ts';
import { addRunning } from './running.ts';
import { startingPage } from './strips.ts';
import type { Setting } from './strips.ts';
import { emptyTree, writeTree } from './tags.ts';

export type { Attachment } from './attachments.ts';

/** What a PDF is for. */
export type PdfVariant =
  /** To keep: PDF/A-2a, pictures as they are delivered beside it. */
  | { kind: 'record' }
  /** To mail: the same with smaller pictures, which are kept in a folder of their own. */
  | { kind: 'share'; cacheFolder: string }
  /** To go on with: PDF/A-3a with files inside. */
  | { kind: 'data'; attachments: readonly Attachment[] };

export interface PdfOptions {
  /** The file that is written, whole or not at all. */
  file: string;
  /** Folder that the renditions' `file` paths start from. */
  pictureFolder: string;
  /** A record unless said. */
  variant?: PdfVariant;
  /** A4 unless said. */
  size?: 'A4' | 'Letter';
  /** Called for each character no font has; it is printed as its code point. */
  report?: (notice: Notice) => void;
  signal?: AbortSignal;
}

/**
 * Prints a dossier as one tagged PDF, laid out after PDF/A-2a (3a with files inside) and PDF/UA-1. The same dossier and
 * pictures give the same bytes on any machine; memory does not grow with the pictures. Throws on our own mistakes (a link
 * without target, an anchor given twice, a figure or rendition that is not there), what the disk refuses, and the
 * signal's reason when aborted.
 */
export async function printPdf(dossier: Dossier, options: PdfOptions): Promise<void> {
  const { variant = { kind: 'record' }, pictureFolder, signal } = options;
  const geometry = geometryOf(options.size ?? 'A4');
  const fonts = openFonts();
  const root: Tag = { role: 'Document', parent: null };
  const { photos, pathOf } = variant.kind === 'share' ? await mailPictures(dossier.photos, { pictureFolder, cacheFolder: variant.cacheFolder, signal }) : { photos: dossier.photos, pathOf: (rendition: string) => path.join(pictureFolder, rendition) };
  const attachments = variant.kind === 'data' ? variant.attachments : [];
  const layout = layOut({ ...dossier, photos }, fonts, geometry, root, attachments);
  for (const notice of fonts.missing()) options.report?.(notice);

  const pdf = await PDFDocument.create({ updateMetadata: false });
  const file = openPdfFile(pdf.context, options.file);
  try {
    const tree = emptyTree(root, layout.pages.length);
    const embedded = await embed(pdf, file, layout, fonts, pathOf);
    signal?.throwIfAborted();
    const pages = drawPages(pdf, file, layout, fonts, embedded, tree, geometry);
    addLinks(pdf, file, layout, tree, pages, geometry);
    const written = writeTree(pdf.context, file, tree, pages);
    const outline = writeOutline(pdf.context, layout, written.nodes, pages, geometry);
    if (attachments.length > 0) attach(pdf, file, attachments, documentDate(dossier));
    const content = JSON.stringify([dossier, embedded.hashes, geometry, variant.kind, attachments.map(({ bytes }) => hashOf(bytes))]);
    await addMetadata(pdf, dossier, { tree: written.root, outline, seed: content, part: variant.kind === 'data' ? 3 : 2 });
    // Fonts join the document once all their letters are known.
    await pdf.flush();
    file.finish();
  } catch (fault) {
    file.discard();
    throw fault;
  }
}

function hashOf(bytes: Uint8Array): string {
  return createHash('sha256').update(bytes).digest('hex');
}

/** The pages of a dossier with everything placed, before a byte is drawn. `inside` are the files that travel in it. */
export function layOut(dossier: Dossier, fonts: Fonts, geometry: Geometry, root: Tag, inside: readonly Inside[] = []): Layout {
  const setting: Setting = {
    fonts,
    photos: new Map(dossier.photos.map((photo) => [photo.id, photo])),
    bodyHeight: geometry.bottom - geometry.top,
    firstOutlook: dossier.sections.flatMap((section) => section.blocks).find((block) => block.type === 'outlook'),
  };
  const frame = { x: geometry.left, width: geometry.bodyWidth, tag: root };
  const opening = openingStrips(setting, dossier, frame);
  const sections = opening.length > 0 ? dossier.sections.slice(1) : dossier.sections;
  const strips = [
    ...coverStrips(setting, dossier, inside, frame),
    ...opening,
    ...contentsStrips(setting, dossier, frame),
    ...startingPage(sections.flatMap((section) => sectionStrips(setting, section, frame))),
  ];
  const layout = paginate(strips, geometry);
  addRunning(layout, dossier, fonts, geometry);
  return layout;
}
