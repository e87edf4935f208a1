/** What is chosen on the page Find; empty where nothing is. */
export interface Choice {
  /** As typed. */
  q: string;
  kind: string;
  /** Zone id; `none` for what belongs to no zone. */
  zone: string;
  part: string;
  /** States with hyphens: `not-seen`. */
  state: string[];
  load: boolean;
}
/** What filters know of a line. */
export interface Facets {
  kind: string;
  zones: readonly string[];
  part: string;
  state: string;
  load: boolean;
}
export type Facet = 'kind' | 'zone' | 'part' | 'state' | 'load';

export const nothingChosen: Choice = { q: '', kind: '', zone: '', part: '', state: [], load: false };

/** Reads a choice from the part of an address behind `#`. What is no choice (`#Text`) chooses nothing. */
export function choiceFrom(hash: string): Choice {
  const values = new URLSearchParams(hash.replace(/^#/, ''));
  const get = (name: string): string => values.get(name) ?? '';
  return { q: get('q'), kind: get('kind'), zone: get('zone'), part: get('part'), state: get('state').split(',').filter((state) => state !== ''), load: get('load') === 'yes' };
}

/** The same as it stands behind `#`; empty where nothing is chosen. */
export function hashOf(choice: Choice): string {
  const values = new URLSearchParams();
  const set = (name: string, value: string): void => {
    if (value !== '') values.set(name, value);
  };
  set('q', choice.q.trim());
  set('kind', choice.kind);
  set('zone', choice.zone);
  set('part', choice.part);
  set('state', choice.state.join(','));
  set('load', choice.load ? 'yes' : '');
  const text = values.toString();
  // Commas are plain in a hash, and easier to read so.
  return text === '' ? '' : `#${text.replaceAll('%2C', ',')}`;
}

/** What stands in the address and is no choice on this page: `zone=frunk`. */
export function unknownIn(choice: Choice, known: Readonly<Record<'kind' | 'zone' | 'part' | 'state', readonly string[]>>): string[] {
  const single = (['kind', 'zone', 'part'] as const).filter((name) => choice[name] !== '' && !known[name].includes(choice[name])).map((name) => choice[name]);
  return [...single, ...choice.state.filter((state) => !known.state.includes(state))];
}

/** Whether a line passes the filters; `but` leaves one of them out, to count what each of its values would give. */
export function passes(line: Facets, choice: Choice, but?: Facet): boolean {
  return (
    (but === 'kind' || choice.kind === '' || line.kind === choice.kind) &&
    (but === 'zone' || choice.zone === '' || line.zones.includes(choice.zone)) &&
    (but === 'part' || choice.part === '' || line.part === choice.part) &&
    (but === 'state' || choice.state.length === 0 || choice.state.includes(line.state)) &&
    (but === 'load' || !choice.load || line.load)
  );
}

/** Of lines that meet the words: how many each value of each filter would show, the other filters as they are. */
export function countsOf(lines: readonly Facets[], choice: Choice): Record<Facet, Map<string, number>> {
  const counts: Record<Facet, Map<string, number>> = { kind: new Map(), zone: new Map(), part: new Map(), state: new Map(), load: new Map() };
  const add = (facet: Facet, value: string): unknown => counts[facet].set(value, (counts[facet].get(value) ?? 0) + 1);
  for (const line of lines) {
    if (passes(line, choice, 'kind')) add('kind', line.kind);
    if (passes(line, choice, 'zone')) for (const zone of line.zones) add('zone', zone);
    if (passes(line, choice, 'part')) add('part', line.part);
    if (passes(line, choice, 'state')) add('state', line.state);
    if (passes(line, choice, 'load') && line.load) add('load', 'yes');
  }
  return counts;
}
