import { describe, expect, test } from 'vitest';
import { proseBlocks } from '../../src/write/prose.ts';
import { everyWordKept, notesOf } from '../read/notes-helper.ts';
import { inlinesOf, textOf } from '../write/builders.ts';
import { corpusFolder, corpusIsRequired } from './corpus.ts';
import { commonmark, missingWords, naughty, scripting, withoutSigns } from './strings.ts';

const folder = corpusFolder();

/** Everything of blocks that is printed: words, and the targets of links. */
function printed(markdown: string): string {
  const blocks = proseBlocks(markdown);
  const targets = blocks.flatMap(inlinesOf).flat().map((part) => (typeof part === 'string' ? '' : (part.href ?? '')));
  return `${textOf(blocks)} ${targets.join(' ')}`;
}

/** Words of HTML as a browser shows them. The four references are all that CommonMark's own HTML writes. */
function shown(html: string): string {
  return html.replace(/<[^>]*>/g, ' ').replaceAll('&lt;', '<').replaceAll('&gt;', '>').replaceAll('&quot;', '"').replaceAll('&amp;', '&');
}

/** Where a line of findings can carry words somebody typed. */
const places: Record<string, (words: string) => string> = {
  narrative: (words) => `# Sill, left\n\n${words}\n`,
  'free words of a finding': (words) => `# Sill, left\n\n- plug, inner face 1: missing. ${words}\n`,
  'a condition': (words) => `# Sill, left\n\n- plug, inner face 1: ${words}\n`,
  'a remark': (words) => `# Sill, left\n\n- ${words}\n`,
  'who told': (words) => `# Sill, left\n\n- told, ${words}: "${words}"\n`,
  'work and parts': (words) => `# Sill, left\n\n- do: ${words}\n  - part: ${words}\n  - done: ${words}\n`,
  'a heading': (words) => `# ${words}\n\n- plug: missing\n`,
  'the car': (words) => `# Car\n\n- car: ${words}\n`,
  'a key': (words) => `# Visit\n\n- ${words}: yes\n`,
  'the words of a picture': (words) => `# Sill, left\n\n![${words}](IMG_1.jpg)\n`,
  'the file of a picture': (words) => `# Sill, left\n\n![plug: missing](${words})\n`,
  'no heading': (words) => words,
};

if (folder === null) {
  test('the corpus of texts was left out: SILLBOOK_CORPUS names no folder', () => {
    expect(corpusIsRequired, 'on a build machine the corpus has to be there').toBe(false);
  });
} else {
  describe('every example of the CommonMark specification', () => {
    const examples = commonmark(folder);

    test('the examples are all there', () => {
      expect(examples).toHaveLength(655);
    });

    test.each(['', '# Sill, left\n\n'])('is read without loss below %j', (before) => {
      const lost = examples.map(({ example, markdown }) => ({ example, words: everyWordKept(before + markdown) }));
      expect(lost.filter(({ words }) => words.length > 0)).toEqual([]);
    });

    test('keeps every word as blocks: those typed, and those of the HTML the specification wants', () => {
      const lost = examples.map(({ example, markdown, html }) => {
        const have = printed(markdown);
        return { example, words: [...missingWords(withoutSigns(markdown), have), ...missingWords(shown(html), have)] };
      });
      expect(lost.filter(({ words }) => words.length > 0)).toEqual([]);
    });
  });

  describe('naughty strings and strings that try to run a script', () => {
    const whole = [...naughty(folder), ...scripting(folder)];
    const strings = [...new Set([...whole, ...scripting(folder).flatMap((block) => block.split('\n'))])];

    test('the strings are all there', () => {
      expect(whole.length).toBeGreaterThan(600);
    });

    test.each(Object.keys(places))('as %s: read without loss', (name) => {
      const lost = strings.map((words) => ({ words, missing: everyWordKept(places[name]?.(words) ?? '') }));
      expect(lost.filter(({ missing }) => missing.length > 0)).toEqual([]);
    });

    test('as prose every word stays, and only addresses a reader may follow become links', () => {
      const lost = strings.map((words) => ({ words, missing: missingWords(withoutSigns(words), printed(words)) }));
      expect(lost.filter(({ missing }) => missing.length > 0)).toEqual([]);
      const targets = strings.flatMap((words) => proseBlocks(words).flatMap(inlinesOf).flat()).flatMap((part) => (typeof part === 'string' ? [] : (part.href ?? [])));
      expect(targets.filter((href) => !/^(https?:\/\/|mailto:|tel:)/i.test(href))).toEqual([]);
    });

    test('none hides the zone that follows it', () => {
      const hidden = strings.filter((words) => {
        const { notes } = notesOf(`# Sill, left\n\n${words}\n\n# Sill, right\n\n- plug, inner face 1: missing\n`);
        return notes.zones.at(-1)?.zone !== 'sill-right' || notes.zones.at(-1)?.entries[0]?.type !== 'finding';
      });
      expect(hidden).toEqual([]);
    });
  });
}
