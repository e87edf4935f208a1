import type { WorkKind } from '../../model/catalogue.ts';
import type { Fault } from './fault.ts';

/** What is wrong between kinds of work: ids nobody has, reasons for nothing, spellings that cannot be found, an order that runs in a circle. */
export function workFaults(works: readonly WorkKind[]): Fault[] {
  const known = new Set(works.map((kind) => kind.id));
  return [...works.flatMap((kind) => [...idFaults(kind, known), ...reasonFaults(kind), ...phraseFaults(kind)]), ...circleFaults(works)];
}

function fault(id: string, word: string, wrong: string): Fault {
  return { kind: 'works', id, word, wrong };
}

function idFaults(kind: WorkKind, known: ReadonlySet<string>): Fault[] {
  return [kind.after, kind.needs, kind.against, kind.undoes].flatMap((ids) => [
    ...ids.filter((id) => !known.has(id)).map((id) => fault(kind.id, id, `names an unknown kind of work "${id}"`)),
    ...ids.filter((id, at) => ids.indexOf(id) !== at).map((id) => fault(kind.id, id, `names "${id}" twice in one list`)),
    ...ids.filter((id) => id === kind.id).map((id) => fault(kind.id, id, `names itself, "${id}"`)),
  ]);
}

/** Every reason belongs to an id above it, each id has one at most, and what is said to come first has one at all. */
function reasonFaults(kind: WorkKind): Fault[] {
  const named = [...kind.after, ...kind.needs, ...kind.against, ...kind.undoes];
  const given = kind.reasons.flatMap((reason) => reason.of);
  return [
    ...given.filter((id) => !named.includes(id)).map((id) => fault(kind.id, id, `gives a reason for "${id}", which no list of it names`)),
    ...given.filter((id, at) => given.indexOf(id) !== at).map((id) => fault(kind.id, id, `gives two reasons for "${id}"`)),
    ...(kind.why === '' ? named.filter((id) => !given.includes(id)).map((id) => fault(kind.id, id, `gives no reason for "${id}"; expected "why" or a line under Reasons`)) : []),
  ];
}

function phraseFaults(kind: WorkKind): Fault[] {
  return [...kind.also, ...kind.beside, ...kind.alone].flatMap((spelling) => {
    const words = spelling.split(/[\s-]+/);
    const gap = words[0] === '…' || words.at(-1) === '…' || words.some((word) => word !== '…' && word.includes('…'));
    return gap ? [fault(kind.id, spelling, `has the spelling "${spelling}"; expected "…" between two words, with spaces`)] : [];
  });
}

/** Circles of `after`, each told once, at the kind whose list closes it. */
function circleFaults(works: readonly WorkKind[]): Fault[] {
  const byId = new Map(works.map((kind) => [kind.id, kind]));
  const done = new Set<string>();
  const faults: Fault[] = [];
  const visit = (kind: WorkKind, trail: readonly string[]): void => {
    for (const id of kind.after) {
      const at = trail.indexOf(id);
      if (at >= 0 && id !== kind.id) faults.push(fault(kind.id, `after: ${kind.after.join(', ')}`, `has to come after "${id}", which has to come after it: ${[...trail.slice(at), id].join(' after ')}`));
      const next = byId.get(id);
      if (at < 0 && next && !done.has(id)) visit(next, [...trail, id]);
    }
    done.add(kind.id);
  };
  for (const kind of works) if (!done.has(kind.id)) visit(kind, [kind.id]);
  return faults;
}
