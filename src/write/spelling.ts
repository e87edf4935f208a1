import type { Section } from '../model/dossier.ts';
import { americanSpelling, britishSpelling } from '../model/wording.ts';
import type { Context } from './context.ts';
import { dossierFindings } from './data.ts';

/** Blocks that hold nothing but words somebody typed, and properties that are names, addresses or typed. */
const typedBlocks: readonly unknown[] = ['remark', 'quote', 'code'];
const typedKeys: readonly string[] = ['id', 'href', 'zone', 'photo', 'alt', 'by', 'page', 'nav'];

/**
 * The sections in the spelling of the dossier's language. Our own sentences are written in British spelling; what was typed,
 * names of files and titles of sources stay as they are, byte for byte, also where they stand inside a sentence of ours.
 */
export function spelled(sections: Section[], context: Context): Section[] {
  if (context.language !== 'en-US') return sections;
  const isTyped = typedWords(context);
  const walk = <Tree>(tree: Tree, key: string, typed: IsTyped = isTyped): Tree => {
    if (typeof tree === 'string') return (typedKeys.includes(key) ? tree : respelled(tree, typed)) as Tree;
    if (Array.isArray(tree)) return tree.map((part: unknown) => walk(part, key, typed)) as Tree;
    if (typeof tree !== 'object' || tree === null || ('type' in tree && typedBlocks.includes(tree.type)) || ('code' in tree && tree.code === true)) return tree;
    return Object.fromEntries(Object.entries(tree).map(([name, part]) => [name, walk(part, name, name === 'columns' ? ours : typed)])) as Tree;
  };
  return walk(sections, '');
}

type IsTyped = (before: string, word: string, after: string, alone: boolean) => boolean;

/** Heads of columns are never typed. */
const ours: IsTyped = () => false;

/** A word is somebody else's where it stands beside a neighbour it was typed beside, or alone as it was typed alone. */
function typedWords(context: Context): IsTyped {
  const pairs = new Set<string>();
  const alone = new Set<string>();
  for (const text of typedTexts(context)) {
    const words = wordsOf(text);
    words.forEach((word, at) => pairs.add(`${word} ${words[at + 1] ?? ''}`));
    for (const piece of text.split(/[,:;.()“”"\n]/)) {
      const [first, ...more] = wordsOf(piece);
      if (first !== undefined && more.length === 0) alone.add(first);
    }
  }
  return (before, word, after, single) => (before !== '' && pairs.has(`${before} ${word}`)) || (after !== '' && pairs.has(`${word} ${after}`)) || (single && alone.has(word));
}

/** All that was typed for this dossier and the visits before, names of files, words of the edition, titles of sources. */
function typedTexts(context: Context): string[] {
  const { catalogue } = context.inspection.job;
  const records = [catalogue.zones, catalogue.parts, catalogue.conditions, catalogue.cautions, catalogue.evidence, catalogue.reasons, catalogue.works, catalogue.materials].flat();
  const inspections = [context.inspection, ...context.earlier.map((visit) => visit.inspection)];
  return [
    ...inspections.flatMap((inspection) => [
      ...dossierFindings({ ...context, inspection }).flatMap(({ under, text }) => [under, text]),
      ...inspection.job.photos.flatMap((photo) => [photo.path, ...photo.keywords, ...photo.editors]),
      inspection.job.settings.workshop ?? '',
    ]),
    ...context.originals.files.map(({ path }) => path),
    ...stringsIn([context.edition.opening, context.edition.limits, context.changes]),
    // Where a record names no publication, these are words of ours.
    ...[...records, ...catalogue.risk.values, ...catalogue.risk.mixtures].map(({ source }) => source.replaceAll(/our judgement/gi, '')),
  ];
}

function stringsIn(tree: unknown): string[] {
  if (typeof tree === 'string') return [tree];
  return typeof tree === 'object' && tree !== null ? Object.values(tree).flatMap(stringsIn) : [];
}

function wordsOf(text: string): string[] {
  return text.toLowerCase().match(/[\p{L}\p{N}]+/gu) ?? [];
}

function respelled(text: string, isTyped: IsTyped): string {
  return text.replace(britishSpelling, (word, ...rest) => {
    const at = rest.find((one) => typeof one === 'number') ?? 0;
    const [left, right] = [text.slice(0, at), text.slice(at + word.length)];
    const alone = /(^|[,:;.()“”"\n])\s*$/.test(left) && /^\s*($|[,:;.()“”"\n])/.test(right);
    return isTyped(wordsOf(left).at(-1) ?? '', word.toLowerCase(), wordsOf(right)[0] ?? '', alone) ? word : americanSpelling(word);
  });
}
