import type { Words } from '../../../src/model/printed-words.ts';
import { choiceFrom, countsOf, hashOf, nothingChosen, passes, unknownIn, type Choice, type Facets } from './find-choice.ts';
import { fold, marksIn, meets, termsFrom, wantsOf, type Term, type Want } from './find-words.ts';

/** Its page carries them, no script holds words. */
type FindSay = Words['findSay'];
interface Line extends Facets {
  element: HTMLElement;
  /** Words and those of its zone, folded. */
  text: string;
  terms: ReadonlySet<number>;
}
interface Group {
  element: HTMLElement;
  lines: Line[];
}
interface Finder {
  form: HTMLFormElement;
  field: HTMLInputElement;
  selects: HTMLSelectElement[];
  states: HTMLInputElement[];
  load: HTMLInputElement;
  status: HTMLElement;
  nothing: HTMLElement;
  /** How many filters are chosen, beside the word that unfolds them. */
  on: HTMLElement;
  groups: Group[];
  lines: Line[];
  terms: Term[];
  /** As typed by the catalogue, to say what else a word stands for. */
  names: string[];
  say: FindSay;
}

/**
 * The index becomes a search: words, filters with counts, the choice in the address, so that a link shows the same. Without
 * this script the list stands as it is.
 */
export function findInPlace(): void {
  const finder = finderOn(document);
  if (!finder) return;
  const { form } = finder;
  form.hidden = false;
  const show = (): void => {
    const choice = choiceIn(finder);
    apply(finder, choice, []);
    // A browser may refuse many changes in a short time; the next one carries this one with it.
    try {
      history.replaceState(history.state, '', hashOf(choice) || location.pathname + location.search);
    } catch {
      return;
    }
  };
  const follow = (): void => {
    const unknown = put(finder, choiceFrom(location.hash));
    apply(finder, choiceIn(finder), unknown);
  };
  form.addEventListener('input', () => show());
  form.addEventListener('submit', (event) => event.preventDefault());
  form.addEventListener('reset', (event) => {
    event.preventDefault();
    put(finder, nothingChosen);
    show();
    finder.field.focus();
  });
  // A plain anchor (`#Text`) is no choice and changes none.
  addEventListener('hashchange', () => (location.hash === '' || location.hash.includes('=') ? follow() : undefined));
  addEventListener('pageshow', follow);
  follow();
  roomForHits(form);
}

/** On a narrow screen the filters fold, so that hits are near the field; never over a filter that is set. */
function roomForHits(form: HTMLFormElement): void {
  const filters = form.querySelector('details');
  const narrow = matchMedia('(max-width: 46rem)');
  const settle = (): void => {
    if (filters) filters.open = !narrow.matches || /[#&](?!q=)/.test(location.hash);
  };
  narrow.addEventListener('change', settle);
  settle();
}

function finderOn(page: Document): Finder | null {
  const form = page.querySelector<HTMLFormElement>('.find-form');
  const field = form?.querySelector<HTMLInputElement>('[name="q"]');
  const load = form?.querySelector<HTMLInputElement>('[name="load"]');
  const status = form?.querySelector<HTMLElement>('[role="status"]');
  const nothing = form?.querySelector<HTMLElement>('.find-nothing');
  const on = form?.querySelector<HTMLElement>('.on');
  const list = page.querySelector<HTMLElement>('.find-list');
  if (!form || !field || !load || !status || !nothing || !on || !list) return null;
  const names = (list.dataset['terms'] ?? '').split('\n').filter((line) => line !== '');
  const say = JSON.parse(form.dataset['say'] ?? '') as FindSay;
  const kinds = new Map(Object.entries(say.kinds).map(([kind, label]) => [label as string, kind]));
  const groups = [...list.querySelectorAll<HTMLElement>('.find-group')].map((element) => groupFrom(element, kinds));
  return {
    form, field, load, status, nothing, on, groups, names, say,
    selects: [...form.querySelectorAll('select')],
    states: [...form.querySelectorAll<HTMLInputElement>('[name="state"]')],
    lines: groups.flatMap((group) => group.lines),
    terms: termsFrom(names),
  };
}

function groupFrom(element: HTMLElement, kinds: ReadonlyMap<string, string>): Group {
  const zone = element.dataset['z'] ?? 'none';
  const head = fold(element.querySelector('h3')?.textContent ?? '');
  const numbers = (text: string | undefined): number[] => (text === undefined ? [] : text.split(' ').map(Number));
  const shared = numbers(element.dataset['t']);
  const lines = [...element.querySelectorAll('li')].map((line): Line => {
    const { k: kind, p: part, z: zones, l: load, t: terms } = line.dataset;
    return {
      element: line,
      kind: kinds.get(kind ?? '') ?? '',
      zones: zones === undefined ? [zone] : [zone, ...zones.split(' ')],
      part: part ?? '',
      state: line.querySelector('.state')?.classList[1] ?? '',
      load: load !== undefined,
      text: fold(line.textContent) + head,
      terms: new Set([...shared, ...numbers(terms)]),
    };
  });
  return { element, lines };
}

function choiceIn({ field, selects, states, load }: Finder): Choice {
  const value = (name: string): string => selects.find((select) => select.name === name)?.value ?? '';
  return { q: field.value, kind: value('kind'), zone: value('zone'), part: value('part'), state: states.filter((box) => box.checked).map((box) => box.value), load: load.checked };
}

/** Sets the form to a choice; hands back what of it the form does not have. */
function put({ field, selects, states, load }: Finder, choice: Choice): string[] {
  const valuesOf = (name: string): string[] => [...(selects.find((select) => select.name === name)?.options ?? [])].map((option) => option.value);
  const unknown = unknownIn(choice, { kind: valuesOf('kind'), zone: valuesOf('zone'), part: valuesOf('part'), state: states.map((box) => box.value) });
  field.value = choice.q;
  for (const select of selects) {
    const wanted = select.name === 'kind' ? choice.kind : select.name === 'zone' ? choice.zone : choice.part;
    select.value = unknown.includes(wanted) ? '' : wanted;
  }
  for (const box of states) box.checked = choice.state.includes(box.value);
  load.checked = choice.load;
  return unknown;
}

let marking = 0;

function apply(finder: Finder, choice: Choice, unknown: readonly string[]): void {
  const wants = wantsOf(choice.q, finder.terms);
  const meeting = new Set(finder.lines.filter((line) => meets(line.text, line.terms, wants)));
  const hits: Line[] = [];
  for (const { element, lines } of finder.groups) {
    let any = false;
    for (const line of lines) {
      const hit = meeting.has(line) && passes(line, choice);
      if (line.element.hidden === hit) line.element.hidden = !hit;
      if (hit) hits.push(line);
      any ||= hit;
    }
    if (element.hidden === any) element.hidden = !any;
  }
  showCounts(finder, choice, [...meeting]);
  finder.status.textContent = [hitsSaid(finder, hits.length), ...alsoSaid(finder, wants), ...(unknown.length > 0 ? [filled(finder.say.unknown, [unknown.join(', ')])] : [])].join(' ');
  const chosen = [choice.kind, choice.zone, choice.part].filter((value) => value !== '').length + choice.state.length + Number(choice.load);
  finder.on.textContent = chosen === 0 ? finder.say.noneOn : filled(finder.say.on, [String(chosen)]);
  finder.nothing.hidden = hits.length > 0;
  mark(hits, wants, finder.terms);
}

/** "17 of 512 lines.", and all of them where nothing is chosen. */
function hitsSaid({ say, lines }: Finder, hits: number): string {
  const all = lines.length;
  return hits === all ? filled(all === 1 ? say.one : say.all, [String(all)]) : filled(say.hits, [String(hits), String(all)]);
}

/** Words with a value in place of each `{}`, in order. */
function filled(words: string, values: string[]): string {
  return words.replaceAll('{}', () => values.shift() ?? '');
}

/** What a word stands for besides itself, in the usual name of each term. */
function alsoSaid({ names, say }: Finder, wants: readonly Want[]): string[] {
  return wants.flatMap(({ needles, terms }) => {
    const typed = needles.map((needle) => needle.words).join(' ');
    const others = [...new Set(terms.map((term) => (names[term] ?? '').replace(/^=/, '').split('|')[0] ?? ''))].filter((name) => !fold(name).includes(` ${typed}`));
    return others.length === 0 ? [] : [filled(say.also, [typed, others.slice(0, 3).join(', ')])];
  });
}

function showCounts({ selects, states, load }: Finder, choice: Choice, lines: readonly Line[]): void {
  const counts = countsOf(lines, choice);
  for (const select of selects) {
    const of = counts[select.name as 'kind' | 'zone' | 'part'];
    for (const option of select.options) {
      if (option.value === '') continue;
      option.dataset['name'] ??= option.text;
      option.text = `${option.dataset['name']} (${of.get(option.value) ?? 0})`;
    }
  }
  for (const box of states) setNumber(box, counts.state.get(box.value) ?? 0);
  setNumber(load, counts.load.get('yes') ?? 0);
}

function setNumber(box: HTMLInputElement, count: number): void {
  const number = box.parentElement?.querySelector('.n');
  if (number) number.textContent = String(count);
}

/** The first screens at once, the rest while the page is already shown. */
function mark(hits: readonly Line[], wants: readonly Want[], terms: readonly Term[]): void {
  cancelAnimationFrame(marking);
  const marked = new Set([...document.querySelectorAll('.find-list mark')].map((each) => each.closest('li')));
  for (const line of marked) if (line) unmark(line);
  if (wants.length === 0) return;
  let at = 0;
  const next = (): void => {
    for (const end = Math.min(at + 60, hits.length); at < end; at += 1) {
      const line = hits[at]?.element;
      if (line) markLine(line, wants, terms);
    }
    if (at < hits.length) marking = requestAnimationFrame(next);
  };
  next();
}

function unmark(line: Element): void {
  for (const each of line.querySelectorAll('mark')) each.replaceWith(...each.childNodes);
  line.normalize();
}

function markLine(line: HTMLElement, wants: readonly Want[], terms: readonly Term[]): void {
  const walker = document.createTreeWalker(line, NodeFilter.SHOW_TEXT);
  const texts: Text[] = [];
  while (walker.nextNode()) texts.push(walker.currentNode as Text);
  for (const text of texts) {
    const whole = text.data;
    const pieces: (string | Node)[] = [];
    let done = 0;
    for (const [from, to] of marksIn(whole, wants, terms)) {
      const made = document.createElement('mark');
      made.textContent = whole.slice(from, to);
      pieces.push(whole.slice(done, from), made);
      done = to;
    }
    if (pieces.length > 0) text.replaceWith(...pieces, whole.slice(done));
  }
}
