import { PDFHexString, PDFName } from 'pdf-lib';
import type { PDFContext, PDFRef } from 'pdf-lib';
import type { PdfFile } from './file.ts';
import type { Tag } from './items.ts';

/** A child of a node: another node, marked content on a page, or an annotation. */
type Kid = { tag: Tag } | { page: number; mark: number } | { page: number; annotation: PDFRef };

/** The structure tree as drawing finds it. */
export interface Tree {
  root: Tag;
  kids: Map<Tag, Kid[]>;
  /** For each page, the node of each marked content id. */
  marks: Tag[][];
  /** Annotations by their key in the parent tree, which follows those of the pages. */
  annotations: { key: number; tag: Tag }[];
  /** Where figures stand: left, bottom, right, top. */
  boxes: Map<Tag, number[]>;
}

/** A tree without content for a document of so many pages. */
export function emptyTree(root: Tag, pages: number): Tree {
  return { root, kids: new Map([[root, []]]), marks: Array.from({ length: pages }, () => []), annotations: [], boxes: new Map() };
}

/** Notes that the next marked content of a page belongs to a node; gives its id. */
export function markOn(tree: Tree, tag: Tag, page: number): number {
  const marks = tree.marks[page] ?? [];
  marks.push(tag);
  kidsOf(tree, tag).push({ page, mark: marks.length - 1 });
  return marks.length - 1;
}

/** Notes that an annotation belongs to a node; gives its key in the parent tree. */
export function annotationOn(tree: Tree, tag: Tag, page: number, annotation: PDFRef): number {
  const key = tree.marks.length + tree.annotations.length;
  tree.annotations.push({ key, tag });
  kidsOf(tree, tag).push({ page, annotation });
  return key;
}

/** A node joins its parent with its first content, so that the tree is in drawing order and has no empty nodes. */
function kidsOf(tree: Tree, tag: Tag): Kid[] {
  let kids = tree.kids.get(tag);
  if (!kids) {
    kids = [];
    tree.kids.set(tag, kids);
    if (!tag.parent) throw new Error(`A ${tag.role} has content but no parent`);
    kidsOf(tree, tag.parent).push({ tag });
  }
  return kids;
}

/** Writes tree and parent tree; gives the root's reference and one for each node, for the outline. */
export function writeTree(context: PDFContext, file: PdfFile, tree: Tree, pages: readonly PDFRef[]): { root: PDFRef; nodes: Map<Tag, PDFRef> } {
  const root = context.nextRef();
  const nodes = new Map<Tag, PDFRef>();
  for (const tag of tree.kids.keys()) nodes.set(tag, context.nextRef());
  const refOf = (tag: Tag): PDFRef => {
    const ref = nodes.get(tag);
    if (!ref) throw new Error(`A ${tag.role} is missing in the structure tree`);
    return ref;
  };
  for (const [tag, kids] of tree.kids) {
    const page = kids.find((kid) => 'mark' in kid)?.page;
    const children = kids.map((kid) => {
      if ('tag' in kid) return refOf(kid.tag);
      if ('annotation' in kid) return context.obj({ Type: 'OBJR', Obj: kid.annotation, Pg: pages[kid.page] as PDFRef });
      return kid.page === page ? context.obj(kid.mark) : context.obj({ Type: 'MCR', Pg: pages[kid.page] as PDFRef, MCID: kid.mark });
    });
    const element = context.obj({ Type: 'StructElem', S: tag.role, P: tag.parent ? refOf(tag.parent) : root, K: context.obj(children) });
    if (page !== undefined) element.set(PDFName.of('Pg'), pages[page] as PDFRef);
    if (tag.alt !== undefined) element.set(PDFName.of('Alt'), PDFHexString.fromText(tag.alt));
    const attributes = attributesOf(tree, tag);
    if (attributes) element.set(PDFName.of('A'), context.obj(attributes));
    file.write(refOf(tag), element);
  }
  const numbers = [
    ...tree.marks.map((marks, page) => {
      const parents = context.nextRef();
      file.write(parents, context.obj(marks.map(refOf)));
      return [page, parents];
    }),
    ...tree.annotations.map(({ key, tag }) => [key, refOf(tag)]),
  ].flat();
  const parentTree = context.register(context.obj({ Nums: numbers }));
  const next = tree.marks.length + tree.annotations.length;
  context.assign(root, context.obj({ Type: 'StructTreeRoot', K: [refOf(tree.root)], ParentTree: parentTree, ParentTreeNextKey: next }));
  return { root, nodes };
}

function attributesOf(tree: Tree, tag: Tag): Record<string, string | number[]> | null {
  if (tag.role === 'TH') return { O: 'Table', Scope: 'Column' };
  if (tag.role === 'Figure') return { O: 'Layout', Placement: 'Block', BBox: tree.boxes.get(tag) ?? [0, 0, 0, 0] };
  if (tag.numbering) return { O: 'List', ListNumbering: tag.numbering };
  return null;
}
