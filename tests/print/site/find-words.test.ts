import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { choiceFrom, countsOf, hashOf, nothingChosen, passes, unknownIn, type Choice, type Facets } from '../../../templates/site/frame/find-choice.ts';
import { fold, foldWithPlaces, marksIn, meets, termsFrom, wantsOf } from '../../../templates/site/frame/find-words.ts';

const none: ReadonlySet<number> = new Set();
const found = (text: string, typed: string): boolean => meets(fold(text), none, wantsOf(typed, []));

describe('words', () => {
  test.each([
    ['Blind plug 25 mm, inner face 2', 'PLUG inner'],
    ['Blind plug 25 mm, inner face 2', 'face 2'],
    ['Trémie, côté gauche', 'tremie cote'],
    ['tremie', 'TRÉMIE'],
    ['Å is \u0041\u030a', 'a\u030a is å'],
    ['Blech überlappt, Straße', 'uberlappt strasse'],
    ['Łódź, Køge', 'lodz koge'],
    ['film 520 µm', '520 um'],
    ['area 1.5 m²', '1.5 m2'],
    ['IMG_4021.jpg', 'img_4021'],
    ['IMG_4021.jpg', '4021'],
    ['A-post, left', 'a-post'],
    ['A-post, left', 'a post'],
    ["the owner's words", 'owners'],
    ['the owner’s words', "owner's"],
    ['hole <5 mm and <seam> open', '<seam>'],
    ['<img src=x onerror=alert(1)>', 'onerror=alert'],
    ['bolt 🔩 loose', '🔩'],
    ['EUR or € 190', '€ 190'],
    ['ΜΈΤΑΛΛΟ ΣΤΡΌΦΟΣ', 'στροφος'],
    ['صدأ في العتبة', 'العتبة'],
    ['שִׁפְעָה', 'שפעה'],
  ])('%s is found by %s', (text, typed) => expect(found(text, typed)).toBe(true));

  test.each([
    ['crust on the edge', 'rust'],
    ['plug missing', 'plug loose'],
    ['plug, inner face', '"inner plug"'],
    ['plugs', '"plug"'],
    ['face 12', 'face 2'],
  ])('%s is not found by %s', (text, typed) => expect(found(text, typed)).toBe(false));

  test('quotes hold words together to their last letter; one still open is being typed', () => {
    expect(found('behind the cover strip, riveted', '"cover strip"')).toBe(true);
    expect(found('behind the cover strip, riveted', '“cover strip” riv')).toBe(true);
    expect(found('cover over the strip', '"cover strip"')).toBe(false);
    expect(found('behind the cover strip', '"cover st')).toBe(true);
    expect(found('behind the cover strip', '"cover st"')).toBe(false);
  });

  test('nothing typed, and signs alone, leave everything', () => {
    for (const typed of ['', '   ', '""', '?!', '" "']) expect(found('anything', typed), typed).toBe(true);
  });

  test('folding twice is folding once, and both ways of folding agree', () => {
    fc.assert(fc.property(fc.string({ unit: 'grapheme', maxLength: 40 }), (text) => {
      expect(fold(fold(text))).toBe(fold(text));
      const { folded, from, to } = foldWithPlaces(text);
      expect(folded.trim()).toBe(fold(text).trim());
      expect(from).toHaveLength(folded.length);
      expect(to).toHaveLength(folded.length);
    }));
  });

  test('any words of a text, in any order, find it', () => {
    fc.assert(fc.property(fc.array(fc.string({ unit: 'grapheme', minLength: 1, maxLength: 8 }).filter((word) => !/["“”„«»\s]/u.test(word)), { minLength: 1, maxLength: 6 }), (words) => {
      expect(found(words.join(' '), [...words].reverse().join(' '))).toBe(true);
    }));
  });
});

describe('names that mean the same', () => {
  const terms = termsFrom(['sill|rocker|rockers|rocker panel|side sill', 'blind plug|plug|floor plug', '=missing|gone|not there']);
  const about = (typed: string, ...tags: number[]): boolean => meets(fold('a line of other words'), new Set(tags), wantsOf(typed, terms));

  test('a line about a thing is found by any of its names, or the beginning of one', () => {
    for (const typed of ['rocker', 'rocker panel', 'Side Sill', 'rock']) expect(about(typed, 0), typed).toBe(true);
    expect(about('gone', 2)).toBe(true);
    expect(about('rocker gone', 0, 2)).toBe(true);
    expect(about('rocker gone', 0)).toBe(false);
  });

  test('a condition is meant only by a whole name, and a word of a longer name means nothing by itself', () => {
    expect(about('gon', 2)).toBe(false);
    expect(about('floor', 1)).toBe(false);
    expect(about('ro', 0)).toBe(false);
  });

  test('names of what is meant are marked too', () => {
    expect(marksIn('Sill, left: plugs', wantsOf('rocker plug', terms), terms).map(([from, to]) => 'Sill, left: plugs'.slice(from, to))).toEqual(['Sill', 'plug']);
  });
});

describe('marks', () => {
  const marked = (text: string, typed: string): string[] => marksIn(text, wantsOf(typed, []), []).map(([from, to]) => text.slice(from, to));

  test.each([
    ['Plug, inner face 2: plugs', 'plug', ['Plug', 'plug']],
    ['crust and rust', 'rust', ['rust']],
    ['côté, cote', 'cote', ['côté', 'cote']],
    ['co\u0302te\u0301 x', 'cote', ['co\u0302te\u0301']],
    ['520 µm', '520 um', ['520', 'µm']],
    ['the cover strip', '"cover strip"', ['cover strip']],
    ['inner-face', 'inner face', ['inner', 'face']],
    ['rusted', 'rust ruste', ['ruste']],
    ['bolt 🔩🔩', '🔩', ['🔩', '🔩']],
    ['<b>', 'b', ['b']],
  ])('in %s for %s', (text, typed, expected) => expect(marked(text, typed)).toEqual(expected));

  test('never overlap, never leave the text, never split a character', () => {
    fc.assert(fc.property(fc.string({ unit: 'grapheme', maxLength: 60 }), fc.string({ unit: 'grapheme', maxLength: 8 }), (text, typed) => {
      let last = 0;
      for (const [from, to] of marksIn(text, wantsOf(typed, []), [])) {
        expect(from).toBeGreaterThanOrEqual(last);
        expect(to).toBeGreaterThan(from);
        expect(text.slice(from, to)).not.toMatch(/^[\udc00-\udfff]|[\ud800-\udbff]$/);
        last = to;
      }
      expect(last).toBeLessThanOrEqual(text.length);
    }));
  });
});

const values = { kind: ['', 'opening', 'photo'], zone: ['', 'sill-left', 'none'], part: ['', 'plug', 'drain-slot'], state: ['defect', 'not-seen', 'sound'] };
const choice: fc.Arbitrary<Choice> = fc.record({
  q: fc.string({ unit: 'grapheme', maxLength: 20 }).map((text) => text.trim()),
  kind: fc.constantFrom(...values.kind), zone: fc.constantFrom(...values.zone), part: fc.constantFrom(...values.part),
  state: fc.uniqueArray(fc.constantFrom(...values.state)), load: fc.boolean(),
});
const line: fc.Arbitrary<Facets> = fc.record({
  kind: fc.constantFrom('opening', 'photo'), zones: fc.constantFrom(['sill-left'], ['none']), part: fc.constantFrom('', 'plug', 'drain-slot'),
  state: fc.constantFrom('', ...values.state), load: fc.boolean(),
});

describe('the choice', () => {
  test('stands in the address and is read from it again, whatever was typed', () => {
    fc.assert(fc.property(choice, (given) => {
      expect(choiceFrom(hashOf(given))).toEqual(given);
    }));
    expect(hashOf(nothingChosen)).toBe('');
    expect(hashOf({ ...nothingChosen, q: 'cover strip', state: ['defect', 'not-seen'] })).toBe('#q=cover+strip&state=defect,not-seen');
    expect(choiceFrom('#q=cover%20strip&state=not-seen&load=yes')).toEqual({ ...nothingChosen, q: 'cover strip', state: ['not-seen'], load: true });
  });

  test('an address that is no choice chooses nothing, and broken escapes do no harm', () => {
    for (const hash of ['', '#', '#Text', '#%', '#=&=']) expect(choiceFrom(hash), hash).toEqual(nothingChosen);
    expect(choiceFrom('#q=100%&state=,,').q).toBe('100%');
  });

  test('what the page does not have is named', () => {
    expect(unknownIn(choiceFrom('#zone=frunk&state=rotten,not-seen&kind=opening'), values)).toEqual(['frunk', 'rotten']);
    expect(unknownIn(nothingChosen, values)).toEqual([]);
  });

  test('the number of each value is the number of lines it shows', () => {
    fc.assert(fc.property(fc.array(line, { maxLength: 30 }), choice, (lines, given) => {
      const counts = countsOf(lines, given);
      const shown = (changed: Partial<Choice>): number => lines.filter((one) => passes(one, { ...given, ...changed })).length;
      for (const name of ['kind', 'zone', 'part'] as const) for (const value of values[name]) if (value !== '') expect(counts[name].get(value) ?? 0).toBe(shown({ [name]: value }));
      for (const state of values.state) expect(counts.state.get(state) ?? 0).toBe(shown({ state: [state] }));
      expect(counts.load.get('yes') ?? 0).toBe(shown({ load: true }));
      const sum = (numbers: Map<string, number>): number => [...numbers.values()].reduce((total, each) => total + each, 0);
      expect(sum(counts.kind)).toBe(shown({ kind: '' }));
      expect(sum(counts.zone)).toBe(shown({ zone: '' }));
    }));
  });
});
