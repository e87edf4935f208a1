import type { Catalogue, Term } from '../../model/catalogue.ts';
import { workFaults } from './check-works.ts';
import type { Fault } from './fault.ts';

interface Named {
  id: string;
  name: Term;
  also: string[];
}

/** What is wrong between records; empty where all is well. Within one record the schema has looked already. */
export function catalogueFaults(catalogue: Catalogue): Fault[] {
  return [...referenceFaults(catalogue), ...zoneFaults(catalogue), ...spellingFaults(catalogue), ...orderFaults(catalogue), ...workFaults(catalogue.works)];
}

/**
 * Ways a record may be written, its names and the further spellings, each once: lower case, hyphens as spaces, which is
 * how the findings reader compares words. Plurals of parts are derived by that reader and are not among them.
 */
export function spellings(record: Named): string[] {
  return [...new Set([record.name.gb, record.name.us, ...record.also].map(folded))];
}

function folded(word: string): string {
  return word.toLowerCase().replace(/-/g, ' ');
}

function referenceFaults(catalogue: Catalogue): Fault[] {
  const cautions = new Set(catalogue.cautions.map((caution) => caution.id));
  const bodies = new Set(catalogue.bodies.map((body) => body.id));
  const openings = new Set(catalogue.parts.filter((part) => part.type === 'opening').map((part) => part.id));
  const groups = new Set(catalogue.parts.map((part) => part.group));
  const faults: Fault[] = [];
  const look = (kind: keyof Catalogue, id: string, what: string, words: string[], known: Set<string>): void => {
    for (const word of words) if (!known.has(word)) faults.push({ kind, id, word, wrong: `names an unknown ${what} "${word}"` });
  };
  for (const { id, ...zone } of catalogue.zones) {
    look('zones', id, 'caution', zone.cautions, cautions);
    look('zones', id, 'body', zone.bodies, bodies);
    look('zones', id, 'kind of opening', zone.openings.map((opening) => opening.part), openings);
    look('zones', id, 'cavity', zone.openings.map((opening) => opening.cavity), new Set(zone.cavities.map((cavity) => cavity.id)));
  }
  const works = new Set(catalogue.works.map((work) => work.id));
  for (const { id, usedBy } of catalogue.materials) look('materials', id, 'kind of work', usedBy, works);
  const outcomes = new Set(['sound', 'defect', 'cannot tell']);
  for (const { id, ...condition } of catalogue.conditions) {
    look('conditions', id, 'caution', condition.cautions, cautions);
    look('conditions', id, 'group', condition.for, groups);
    look('conditions', id, 'outcome', condition.examples.map((example) => example.outcome), outcomes);
  }
  return faults;
}

function zoneFaults(catalogue: Catalogue): Fault[] {
  const faults: Fault[] = [];
  for (const { id, openings, cavities } of catalogue.zones) {
    const kinds = openings.map((opening) => (opening.place ? `${opening.part}, ${opening.place}` : opening.part));
    for (const word of repeated(kinds)) faults.push({ kind: 'zones', id, word, wrong: `gives the opening "${word}" twice` });
    for (const word of repeated(cavities.map((cavity) => cavity.id))) faults.push({ kind: 'zones', id, word, wrong: `gives the cavity "${word}" twice` });
    for (const { name, replaceHours } of cavities) {
      const [low, likely, high] = replaceHours;
      const word = replaceHours.join(' / ');
      if (low > likely || likely > high) faults.push({ kind: 'zones', id, word, wrong: `gives hours of "${name}" that do not rise from low to high` });
    }
  }
  return faults;
}

/** One spelling, one record: within a kind, and for conditions within each group they apply to. */
function spellingFaults(catalogue: Catalogue): Fault[] {
  const kinds = ['zones', 'parts', 'bodies', 'cautions', 'evidence', 'reasons', 'views', 'materials'] as const;
  const faults = [
    ...kinds.flatMap((kind) => claimFaults(kind, catalogue[kind], '')),
    ...claimFaults('works', catalogue.works.map((kind) => ({ ...kind, also: [...kind.also, ...kind.alone] })), ''),
  ];
  for (const group of new Set(catalogue.conditions.flatMap((condition) => condition.for))) {
    const records = catalogue.conditions.filter((condition) => condition.for.includes(group));
    faults.push(...claimFaults('conditions', records, ` for the group "${group}"`));
  }
  return faults;
}

function claimFaults(kind: keyof Catalogue, records: readonly Named[], where: string): Fault[] {
  const faults: Fault[] = [];
  const owners = new Map<string, string>();
  for (const record of records) {
    const { id } = record;
    const given = [...new Set([record.name.gb, record.name.us].map(folded)), ...record.also.map(folded)];
    for (const word of repeated(given)) faults.push({ kind, id, word, wrong: `gives the spelling "${word}" twice (hyphens count as spaces)` });
    for (const word of record.also) {
      if (word === '' || word !== word.toLowerCase()) faults.push({ kind, id, word, wrong: `has the spelling "${word}" that is empty or not in lower case` });
    }
    for (const word of spellings(record)) {
      const owner = owners.get(word);
      if (owner) faults.push({ kind, id, word, wrong: `claims the spelling "${word}"${where} that ${owner} has already` });
      owners.set(word, id);
    }
  }
  return faults;
}

function orderFaults(catalogue: Catalogue): Fault[] {
  const faults: Fault[] = [];
  const look = (kind: keyof Catalogue, key: string, records: readonly { id: string; rank: number }[]): void => {
    for (const [index, { id, rank }] of records.entries()) {
      const owner = records.slice(0, index).find((other) => other.rank === rank);
      if (owner) faults.push({ kind, id, word: `${key}: ${rank}`, wrong: `has the same ${key} ${rank} as ${owner.id}` });
    }
  };
  for (const kind of ['zones', 'cautions', 'views', 'works'] as const) look(kind, 'order', catalogue[kind].map(({ id, order }) => ({ id, rank: order })));
  look('evidence', 'grade', catalogue.evidence.map(({ id, grade }) => ({ id, rank: grade })));
  return faults;
}

function repeated(words: readonly string[]): string[] {
  return [...new Set(words.filter((word, index) => words.indexOf(word) !== index))];
}
