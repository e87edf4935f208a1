import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import * as fontkit from 'fontkit';
import type { Font } from 'fontkit';
import type { Notice } from '../../model/notice.ts';
import type { Face } from './look.ts';

/** Full TrueType files under the OFL: woff2 files kill the process when subset. */
const files: Record<Face, string> = {
  regular: '400Regular/NotoSans_400Regular.ttf',
  italic: '400Regular_Italic/NotoSans_400Regular_Italic.ttf',
  bold: '600SemiBold/NotoSans_600SemiBold.ttf',
  boldItalic: '600SemiBold_Italic/NotoSans_600SemiBold_Italic.ttf',
};

/** A stretch of text in one face with its advance and kerning, in thousandths of the size. */
export interface Shaped {
  face: Face;
  text: string;
  width: number;
  /** Moves to the left before each glyph, and after the last: one more than there are glyphs. */
  kerns: number[];
}

type Glyphs = ReturnType<Font['layout']>['glyphs'];

interface Opened {
  font: Font;
  bytes: Uint8Array;
  /** By shaped text. */
  glyphs: Map<string, Glyphs>;
}

/** The faces of one document. Opened anew for each, so that no document changes the bytes of the next. */
export interface Fonts {
  /** Text as the face can set it: NFC, no control or invisible characters, what it lacks as `[U+1F527]`. Keeps `\n`. */
  clean(text: string, face: Face): string;
  /** Kerned glyph positions of cleaned text without line breaks. Cached per word and face. */
  shape(text: string, face: Face): Shaped;
  /** Characters that had to be printed as code points, in code point order. */
  missing(): Notice[];
  /** The font file and fontkit's font for it, for embedding; glyphs of what was shaped are not looked for again. */
  opened(face: Face): Opened;
}

/** Invisible formatting characters (soft hyphen, joiners, directions, variation selectors): no glyph, no meaning here. */
const invisible = /[\u00ad\u061c\u180e\u200b-\u200f\u202a-\u202e\u2060-\u206f\ufe00-\ufe0f\ufeff\u{e0000}-\u{e0fff}]/gu;
// biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is taken out.
const controls = /[\u0000-\u0009\u000b-\u001f\u007f-\u009f]/g;

/** Opens the faces on first use. Throws when the font package is not installed. */
export function openFonts(): Fonts {
  const folder = createRequire(import.meta.url).resolve('@expo-google-fonts/noto-sans/package.json').replace(/package\.json$/, '');
  const open = new Map<Face, Opened>();
  const shapes = new Map<string, Shaped>();
  const without = new Set<number>();

  function opened(face: Face): Opened {
    let entry = open.get(face);
    if (!entry) {
      const file = readFileSync(folder + files[face]);
      const font = fontkit.create(file);
      if (!('layout' in font)) throw new Error(`${files[face]} is a font collection`);
      entry = { font, bytes: new Uint8Array(file), glyphs: new Map() };
      open.set(face, entry);
    }
    return entry;
  }

  function clean(text: string, face: Face): string {
    const plain = text.replace(/\r\n?|[\u2028\u2029]/g, '\n').replace(/\t/g, ' ').normalize('NFC').replace(invisible, '').replace(controls, '');
    let set = '';
    for (const character of plain) {
      const codePoint = character.codePointAt(0) ?? 0;
      if (character === '\n' || opened(face).font.hasGlyphForCodePoint(codePoint)) set += character;
      else {
        without.add(codePoint);
        set += `[${codePointName(codePoint)}]`;
      }
    }
    return set;
  }

  function shape(text: string, face: Face): Shaped {
    const key = `${face} ${text}`;
    let shaped = shapes.get(key);
    if (!shaped) {
      shaped = shapeWith(opened(face), text, face);
      shapes.set(key, shaped);
    }
    return shaped;
  }

  return { clean, shape, opened, missing: () => [...without].sort((a, b) => a - b).map(missingNotice) };
}

/**
 * pdf-lib embeds through this: fontkit 2 has `encode` where pdf-lib expects the `encodeStream` of an older one, and what was
 * shaped for measuring is not shaped a second time, which takes as long again.
 */
export function embeddable({ font, glyphs }: Opened): Font {
  const createSubset = font.createSubset.bind(font) as () => { encode(): Uint8Array };
  return Object.assign(Object.create(font) as Font, {
    layout(text: string, ...more: never[]) {
      const known = glyphs.get(text);
      return known ? { glyphs: known } : font.layout(text, ...more);
    },
    createSubset() {
      const subset = createSubset();
      return Object.assign(subset, { encodeStream: () => streamOf(() => subset.encode()) });
    },
  });
}

type Listener = (value?: unknown) => void;

function streamOf(encode: () => Uint8Array): { on(event: string, listener: Listener): unknown } {
  const listeners = new Map<string, Listener>();
  const stream = {
    on(event: string, listener: Listener) {
      listeners.set(event, listener);
      return stream;
    },
  };
  // pdf-lib adds its listeners in the same turn; a failure must reach them and not the process.
  queueMicrotask(() => {
    try {
      listeners.get('data')?.(encode());
      listeners.get('end')?.();
    } catch (error) {
      listeners.get('error')?.(error);
    }
  });
  return stream;
}

/** Glyph positions as the font's kerning and mark tables give them. Raising of marks is not carried over. */
function shapeWith({ font, glyphs: known }: Opened, text: string, face: Face): Shaped {
  const { glyphs, positions } = font.layout(text);
  known.set(text, glyphs);
  const scale = 1000 / font.unitsPerEm;
  const kerns: number[] = new Array<number>(glyphs.length + 1).fill(0);
  let width = 0;
  glyphs.forEach((glyph, index) => {
    const position = positions[index];
    if (!position) return;
    const offset = position.xOffset * scale;
    kerns[index] = (kerns[index] ?? 0) - offset;
    kerns[index + 1] = (kerns[index + 1] ?? 0) + (glyph.advanceWidth - position.xAdvance) * scale + offset;
    width += position.xAdvance * scale;
  });
  return { face, text, width, kerns };
}

function codePointName(codePoint: number): string {
  return `U+${codePoint.toString(16).toUpperCase().padStart(4, '0')}`;
}

function missingNotice(codePoint: number): Notice {
  return {
    level: 'warning',
    rule: 'glyph-missing',
    found: `${codePointName(codePoint)} has no letter in the fonts of the PDF and is printed as [${codePointName(codePoint)}]`,
    advice: 'Write the word instead of the sign; the site shows it unchanged.',
  };
}
