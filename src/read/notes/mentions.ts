import type { Looked, Origin, PhotoName } from '../../model/notes.ts';
import { plain } from './lexicon.ts';
import type { Reader } from './reader.ts';
import type { Snippet } from './source.ts';
import { part, spotOfSnippet } from './source.ts';

const ending = String.raw`\.(?:jpe?g|heic|heif|hif|png|webp|avif|tiff?)`;
/** A name with a picture's ending, or a stem as cameras make them (letters, then four or more digits), with an optional range. */
const nameLike = new RegExp(
  String.raw`(?<![\p{L}\p{N}_/.-])(?:[\p{L}\p{N}_()./-]*[\p{L}\p{N}_)-]${ending}|(?:[A-Z][A-Z0-9]{0,4}_|[A-Z]{3,4}|DSC[FN]?|P)(?:\d{8}_)?\d{4,}(?:[_~-]\d+)?)(?![\p{L}\p{N}_])`,
  'giu',
);
const upperStem = /^[A-Z][A-Z0-9_]*\d/;

/** Photos mentioned by bare name, and the text without them. */
export interface Mentions {
  photos: PhotoName[];
  rest: Snippet;
}

/** Takes bare photo names out of free words: every name of a photo in the job, and what looks like a camera's file name. */
export function takePhotos(reader: Reader, words: Snippet): Mentions {
  const spans = [...knownSpans(reader, words.text), ...likelySpans(words.text)].sort((a, b) => a.from - b.from || b.to - a.to);
  const photos: PhotoName[] = [];
  let rest: Snippet = { text: '', offsets: [] };
  let from = 0;
  for (const span of spans) {
    if (span.from < from) continue;
    const name = part(words, span.from, span.to);
    photos.push({ text: name.text, alt: '', spot: spotOfSnippet(reader.source, name, { file: reader.source.file }) });
    rest = join(rest, { text: words.text.slice(from, span.from), offsets: words.offsets.slice(from, span.from) });
    from = span.to;
  }
  rest = join(rest, { text: words.text.slice(from), offsets: words.offsets.slice(from) });
  return { photos, rest: photos.length === 0 ? part(words, 0) : tidyRest(rest) };
}

/** Names of photos in the job; those with spaces stand for themselves, whole and with their ending. */
function knownSpans(reader: Reader, text: string): { from: number; to: number }[] {
  const spans: { from: number; to: number }[] = [];
  const lower = text.toLowerCase();
  for (const name of lower.length === text.length ? reader.spacedNames : []) {
    for (let from = lower.indexOf(name); from >= 0; from = lower.indexOf(name, from + name.length)) spans.push({ from, to: from + name.length });
  }
  for (const match of text.matchAll(/[^\s,;:()"“”]+/g)) {
    const token = match[0].replace(/\.+$/, '');
    const range = /^(.*\d)[-–]\d+$/.exec(token);
    if (reader.photoNames.has(token.toLowerCase()) || (range && reader.photoNames.has((range[1] ?? '').toLowerCase()))) {
      spans.push({ from: match.index, to: match.index + token.length });
    }
  }
  return spans;
}

function likelySpans(text: string): { from: number; to: number }[] {
  const spans: { from: number; to: number }[] = [];
  for (const match of text.matchAll(nameLike)) {
    if (!match[0].includes('.') && !upperStem.test(match[0])) continue;
    spans.push({ from: match.index, to: match.index + match[0].length });
  }
  return spans;
}

function join(a: Snippet, b: Snippet): Snippet {
  return { text: a.text + b.text, offsets: [...a.offsets, ...b.offsets] };
}

/** Drops the separators that names leave behind. */
function tidyRest(words: Snippet): Snippet {
  const keep: number[] = [];
  const text = words.text;
  for (let index = 0; index < text.length; index += 1) {
    const after = text.slice(index + 1).trimStart();
    const lone = /[,;]/.test(text[index] ?? '') && (after === '' || /^[.,;]/.test(after));
    const double = text[index] === '.' && /\.\s*$/.test(text.slice(0, index));
    const space = text[index] === ' ' && (/^[\s.,;]/.test(text.slice(index + 1)) || index === 0);
    if (!lone && !double && !space) keep.push(index);
  }
  const kept: Snippet = { text: keep.map((index) => text[index]).join(''), offsets: keep.map((index) => words.offsets[index] ?? 0) };
  const lead = /^[\s.,;]*/.exec(kept.text)?.[0].length ?? 0;
  return part(kept, lead, kept.text.replace(/(?<!\.)\.\s*$/, '').length);
}

/** How it was looked at, as the free words say; *seen directly* where they do not. The best grade named counts. */
export function lookedIn(reader: Reader, words: string): Looked {
  const text = ` ${plain(words)} `;
  let best: { grade: number; id: string; at: number; length: number } | null = null;
  for (const { words: phrase, evidence } of reader.lexicon.evidence) {
    const at = phrase === '' ? -1 : findWord(text, phrase);
    if (at < 0 || /\b(not|never|nor)\s+(be\s+|been\s+)?$/.test(text.slice(0, at))) continue;
    if (!best || evidence.grade < best.grade) best = { grade: evidence.grade, id: evidence.id, at, length: phrase.length };
  }
  if (!best) return { evidence: 'direct', through: null, assumed: true };
  const through = /\bthrough (?:the )?([^.,;]+)/.exec(plain(words).length === 0 ? '' : words.toLowerCase())?.[1] ?? null;
  const throughOpening = best.id === 'camera' || best.id === 'direct' ? (through?.trim() ?? null) : null;
  return { evidence: throughOpening !== null && best.id === 'direct' ? 'camera' : best.id, through: throughOpening, assumed: false };
}

/** Where a phrase stands in a text as whole words, -1 where it does not. */
export function findWord(text: string, phrase: string): number {
  for (let at = text.indexOf(phrase); at >= 0; at = text.indexOf(phrase, at + 1)) {
    const around = (text[at - 1] ?? ' ') + (text[at + phrase.length] ?? ' ');
    if (!/[\p{L}\p{N}]/u.test(around)) return at;
  }
  return -1;
}

/** `told by the seller` within free words. */
export function originIn(words: string): Origin {
  const told = /\b(?:told|said|reported) by (?:the )?([^.,;:]+)/i.exec(words);
  return told ? { kind: 'told', by: (told[1] ?? '').trim() } : { kind: 'fact' };
}
