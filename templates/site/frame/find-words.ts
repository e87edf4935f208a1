/** A run of words to look for, folded; `whole` where its last word has to end there. */
export interface Needle {
  words: string;
  whole: boolean;
}
/** One thing typed: found where all its needles are, or where the line is about one of the terms. */
export interface Want {
  needles: Needle[];
  terms: number[];
}
/** Names that mean the same, folded. `whole`: only complete ones count, never their beginning. */
export interface Term {
  names: string[];
  whole: boolean;
}

/** Letters that do not come apart into a plain one and a mark. */
const plain: Readonly<Record<string, string>> = { ß: 'ss', æ: 'ae', œ: 'oe', ø: 'o', đ: 'd', ł: 'l', ı: 'i', ς: 'σ', μ: 'u' };
const folded = new Map<string, string>();

/** One character without case and accents: letters and digits as such, signs apart from words, all else a space. */
function foldOne(character: string): string {
  const known = folded.get(character);
  if (known !== undefined) return known;
  let result = '';
  for (const each of character.toLowerCase().normalize('NFKD').toLowerCase()) {
    if (/\p{M}|[’'\u200d]/u.test(each)) continue;
    result += /[\p{L}\p{N}]/u.test(each) ? (plain[each] ?? each) : /\p{So}|\p{Sc}/u.test(each) ? ` ${each} ` : ' ';
  }
  folded.set(character, result);
  return result;
}

/** A text as it is compared, and for each of its characters where it stands in the text. Single spaces, one at either end. */
export function foldWithPlaces(text: string): { folded: string; from: number[]; to: number[] } {
  let out = ' ';
  const from = [0];
  const to = [0];
  let at = 0;
  for (const character of text) {
    const end = at + character.length;
    const result = foldOne(character);
    if (result === '' && to.length > 1) to[to.length - 1] = end;
    for (const each of result) {
      if (each === ' ' && out.endsWith(' ')) continue;
      out += each;
      for (let unit = 0; unit < each.length; unit += 1) {
        from.push(at);
        to.push(end);
      }
    }
    at = end;
  }
  if (!out.endsWith(' ')) {
    out += ' ';
    from.push(at);
    to.push(at);
  }
  return { folded: out, from, to };
}

/** A text as it is compared: without case, accents and punctuation, single spaces, one at either end. */
export function fold(text: string): string {
  let out = ' ';
  for (const character of text) {
    const result = foldOne(character);
    if (result === ' ') {
      if (!out.endsWith(' ')) out += ' ';
    } else if (result.includes(' ')) {
      for (const each of result) if (each !== ' ' || !out.endsWith(' ')) out += each;
    } else out += result;
  }
  return out.endsWith(' ') ? out : `${out} `;
}

/** Terms as the page carries them: names with `|` between, behind `=` where only whole ones count. */
export function termsFrom(lines: readonly string[]): Term[] {
  return lines.map((line) => ({
    whole: line.startsWith('='),
    names: line.replace(/^=/, '').split('|').map((name) => fold(name).trim()).filter((name) => name !== ''),
  }));
}

/**
 * What was typed, as wants that all have to be met. Words in quotes stand side by side, to their last letter; all others
 * are beginnings of words. The longest run of words that is a name of some term is one want.
 */
export function wantsOf(typed: string, terms: readonly Term[]): Want[] {
  const wants: Want[] = [];
  let loose: string[] = [];
  const settle = (): void => {
    wants.push(...looseWants(loose, terms));
    loose = [];
  };
  for (const [, open, quoted = '', close, word = ''] of typed.matchAll(/(["“”„«»])([^"“”„«»]*)(["“”„«»])?|([^\s"“”„«»]+)/gu)) {
    const words = fold(open === undefined ? word : quoted).trim();
    if (words === '') continue;
    if (open === undefined) loose.push(words);
    else {
      settle();
      wants.push({ needles: [{ words, whole: close !== undefined }], terms: [] });
    }
  }
  settle();
  return wants;
}

function looseWants(words: readonly string[], terms: readonly Term[]): Want[] {
  const wants: Want[] = [];
  for (let at = 0; at < words.length; ) {
    let end = words.length;
    let about: number[] = [];
    for (; end > at; end -= 1) {
      const run = words.slice(at, end).join(' ');
      about = terms.flatMap(({ names }, index) => (names.includes(run) ? [index] : []));
      if (about.length > 0) break;
    }
    if (end === at) {
      const word = words[at] ?? '';
      end = at + 1;
      about = word.length < 3 ? [] : terms.flatMap(({ names, whole }, index) => (!whole && names.some((name) => name.startsWith(word) && !name.includes(' ')) ? [index] : []));
    }
    wants.push({ needles: words.slice(at, end).map((each) => ({ words: each, whole: false })), terms: about });
    at = end;
  }
  return wants;
}

/** Whether a folded text with its terms meets every want. */
export function meets(text: string, terms: ReadonlySet<number>, wants: readonly Want[]): boolean {
  return wants.every((want) => want.needles.every((needle) => holds(text, needle)) || want.terms.some((term) => terms.has(term)));
}

function holds(text: string, { words, whole }: Needle): boolean {
  return text.includes(whole ? ` ${words} ` : ` ${words}`);
}

/** What of a text to mark, ascending, none over another: what was typed, and names of the terms it stands for. */
export function marksIn(text: string, wants: readonly Want[], terms: readonly Term[]): [from: number, to: number][] {
  const { folded: plainText, from, to } = foldWithPlaces(text);
  const needles = wants.flatMap((want) => [
    ...want.needles,
    ...want.terms.flatMap((index) => (terms[index]?.names ?? []).map((words) => ({ words, whole: true }))),
  ]);
  const ranges: [number, number][] = [];
  for (const { words, whole } of needles) {
    const sought = whole ? ` ${words} ` : ` ${words}`;
    for (let at = plainText.indexOf(sought); at >= 0; at = plainText.indexOf(sought, at + 1)) ranges.push([from[at + 1] ?? 0, to[at + words.length] ?? 0]);
  }
  const sorted = ranges.sort((a, b) => a[0] - b[0] || b[1] - a[1]);
  return sorted.reduce<[number, number][]>((kept, range) => {
    const last = kept.at(-1);
    if (last && range[0] < last[1]) last[1] = Math.max(last[1], range[1]);
    else kept.push([...range]);
    return kept;
  }, []);
}
