import type { BlockContent, Definition, DefinitionContent, Image, ImageReference, List, ListItem, PhrasingContent, RootContent } from 'mdast';
import remarkParse from 'remark-parse';
import { unified } from 'unified';
import type { Block, Inline, Span } from '../model/dossier.ts';
import { inlineText } from './inline.ts';

type Style = Omit<Span, 'text'>;
/** What every node is read with. */
interface Source {
  markdown: string;
  definitions: Map<string, Definition>;
}

/**
 * Markdown as blocks. Every character of words stays: raw HTML is the text it is, a picture is its words and file
 * name, a link that is not http, https, mailto or tel is its words with the target in brackets.
 */
export function proseBlocks(markdown: string): Block[] {
  const tree = unified().use(remarkParse).parse(markdown);
  const source: Source = { markdown, definitions: new Map() };
  collect(tree.children, source.definitions);
  return tree.children.flatMap((node) => blockOf(node, source));
}

function collect(nodes: readonly RootContent[], definitions: Source['definitions']): void {
  for (const node of nodes) {
    if (node.type === 'definition' && !definitions.has(node.identifier)) definitions.set(node.identifier, node);
    if (node.type === 'blockquote' || node.type === 'list' || node.type === 'listItem') collect(node.children, definitions);
  }
}

function blockOf(node: RootContent | BlockContent | DefinitionContent, source: Source): Block[] {
  switch (node.type) {
    case 'paragraph':
      return [{ type: 'paragraph', inline: inlineOf(node.children, {}, source) }];
    case 'heading':
      return [{ type: 'heading', level: node.depth <= 2 ? 4 : 5, text: headingText(inlineOf(node.children, {}, source)) }];
    case 'blockquote':
      return [{ type: 'quote', blocks: node.children.flatMap((child) => blockOf(child, source)) }];
    case 'list':
      return [listOf(node, source)];
    case 'code':
      return [{ type: 'code', text: [[node.lang, node.meta].filter((part) => part).join(' '), node.value].filter((part) => part !== '').join('\n') }];
    case 'thematicBreak':
      return [{ type: 'rule' }];
    case 'html':
      return [{ type: 'paragraph', inline: [node.value] }];
    case 'definition':
      return [{ type: 'paragraph', inline: [`[${node.label ?? node.identifier}]: `, ...linked([node.url], node.url, {}), titleText(node.title)].filter((part) => part !== '') }];
    default:
      return 'children' in node
        ? [{ type: 'paragraph', inline: inlineOf(node.children as PhrasingContent[], {}, source) }]
        : [{ type: 'paragraph', inline: inlineOf([node as PhrasingContent], {}, source) }];
  }
}

/** A list numbered otherwise than 1, 2, 3 or 1, 1, 1 keeps its numbers as words, because list blocks count from 1. */
function listOf(node: List, source: Source): Block {
  const numbers = node.ordered === true ? node.children.map((item) => /^\d+/.exec(writtenAs(item, source))?.[0] ?? '') : [];
  const counted = numbers.every((number, index) => Number(number) === index + 1) || numbers.every((number) => Number(number) === 1);
  const items = node.children.map((item, index) => itemOf(item, source, counted ? '' : `${numbers[index]}. `));
  return { type: 'list', ordered: node.ordered === true && counted, items };
}

function writtenAs(node: ListItem | PhrasingContent, source: Source): string {
  return source.markdown.slice(node.position?.start.offset ?? 0, node.position?.end.offset ?? 0);
}

function itemOf(item: ListItem, source: Source, prefix: string): Block[] {
  const blocks = item.children.flatMap((child) => blockOf(child, source));
  if (prefix === '') return blocks;
  const [first, ...rest] = blocks;
  if (first?.type === 'paragraph') return [{ ...first, inline: [prefix, ...first.inline] }, ...rest];
  return [{ type: 'paragraph', inline: [prefix.trim()] }, ...blocks];
}

function inlineOf(nodes: readonly PhrasingContent[], style: Style, source: Source): Inline {
  return nodes.flatMap((node) => phraseOf(node, style, source));
}

function phraseOf(node: PhrasingContent, style: Style, source: Source): Inline {
  switch (node.type) {
    case 'text':
      return [span(node.value.replace(/\s*\n\s*/g, ' '), style)];
    case 'html':
      return [span(node.value.replace(/\s*\n\s*/g, ' '), style)];
    case 'break':
      return [span('\n', style)];
    case 'inlineCode':
      return [span(node.value, { ...style, code: true })];
    case 'emphasis':
      return inlineOf(node.children, { ...style, emphasis: true }, source);
    case 'strong':
      return inlineOf(node.children, { ...style, strong: true }, source);
    case 'link':
      return [...linked(inlineOf(node.children, style, source), node.url, style), ...rest(titleText(node.title), style)];
    case 'linkReference':
      return linkReference(inlineOf(node.children, style, source), node.identifier, node.label, style, source);
    case 'image':
      return [span(pictureText(altOf(node, source), node.url, node.title), style)];
    case 'imageReference':
      return [span(pictureText(altOf(node, source), source.definitions.get(node.identifier)?.url ?? node.identifier, null), style)];
    default:
      return 'children' in node ? inlineOf(node.children as PhrasingContent[], style, source) : [];
  }
}

function linkReference(inner: Inline, identifier: string, label: string | null | undefined, style: Style, source: Source): Inline {
  const target = source.definitions.get(identifier);
  const named = inlineText(inner) === label ? [] : rest(` [${label ?? identifier}]`, style);
  return [...(target ? linked(inner, target.url, style) : inner), ...named];
}

/** Inner text as a link where the target is one a reader may follow; else the text, then the target in brackets. */
function linked(inner: Inline, url: string, style: Style): Inline {
  const words = inner.length === 0 ? [span(url, style)] : inner;
  if (/^(https?:\/\/|mailto:|tel:)/i.test(url)) return words.map((part) => (typeof part === 'string' ? { text: part, href: url } : { ...part, href: url }));
  return inlineText(words) === url || url === '' ? words : [...words, span(` (${url})`, style)];
}

/** The words of a picture; as typed where there are links among them, whose targets the tree leaves out. */
function altOf(node: Image | ImageReference, source: Source): string {
  const inner = /^!\[([\s\S]*)\](?:[([]|$)/.exec(writtenAs(node, source))?.[1] ?? '';
  return inner.includes('](') ? inner : (node.alt ?? '');
}

function pictureText(alt: string, url: string, title: string | null | undefined): string {
  return `${alt ? `${alt} (${url})` : `(${url})`}${titleText(title)}`;
}

function titleText(title: string | null | undefined): string {
  return title ? ` (${title})` : '';
}

function rest(text: string, style: Style): Inline {
  return text === '' ? [] : [span(text, style)];
}

function span(text: string, style: Style): string | Span {
  return Object.keys(style).length === 0 ? text : { text, ...style };
}

/** A heading carries no links: their targets follow in brackets. */
function headingText(inline: Inline): string {
  return inline
    .map((part) => (typeof part === 'string' ? part : part.href && part.href !== part.text ? `${part.text} (${part.href})` : part.text))
    .join('')
    .replaceAll('\n', ' ');
}
