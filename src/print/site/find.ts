import type { DossierIndex } from '../../model/dossier-index.ts';
import type { Dossier, Section } from '../../model/dossier.ts';
import { byCodeUnit } from '../../model/order.ts';
import type { FindGroup, FindKind, FindLine, SiteFind } from './data.ts';
import { linesOf } from './find-lines.ts';
import type { Line } from './find-lines.ts';
import { plain } from './find-words.ts';
import { zonesOf } from './find-zones.ts';

/** Within a zone: itself, what was found, pictures, what to do, then words in their own order. */
const first: readonly FindKind[] = ['opening', 'observation', 'reading', 'photo', 'step'];

function rankOf({ kind, anchor, zone }: Line): number {
  if (kind === 'section') return anchor === zone ? -1 : first.length;
  const at = first.indexOf(kind);
  return at < 0 ? (kind === 'row' ? first.length + 1 : first.length) : at;
}

/**
 * The index of a dossier, zones front to rear, then its other pages; and its sections with an anchor on all it names.
 * @param link address of an anchor on a page, seen from the page of the index
 */
export function findIn(dossier: Dossier, link: (page: string, anchor: string) => string): { sections: Section[]; find: SiteFind } {
  const { sections, lines } = linesOf(dossier);
  const zones = zonesOf(dossier);
  const terms = dossier.index?.terms ?? [];
  const tags = taggerOf(terms);
  const finished = (line: Line, known: readonly number[]): FindLine => {
    const { page, anchor, zone: _zone, ...rest } = line;
    return { ...rest, href: link(page, anchor), terms: tags(`${line.title} ${line.text} ${line.state ?? ''}`, line.part).filter((term) => !known.includes(term)) };
  };
  const inZones = [...zones.values()].flatMap(({ id, name, kind, carriesLoad }): FindGroup[] => {
    const own = lines.filter((line) => line.zone === id).sort((a, b) => rankOf(a) - rankOf(b));
    const about = [...new Set([...tags(name, null), ...termNumbers(terms, 'zone', kind)])];
    return own.length === 0 ? [] : [{ zone: id, title: name, load: carriesLoad, terms: about, lines: own.map((line) => finished(line, about)) }];
  });
  const elsewhere = [...new Set(sections.map(({ page }) => page))].flatMap((page): FindGroup[] => {
    const own = lines.filter((line) => line.zone === null && line.page === page);
    const opening = sections.find((section) => section.page === page);
    return own.length === 0 ? [] : [{ zone: null, title: opening?.nav ?? opening?.title ?? page, load: false, terms: [], lines: own.map((line) => finished(line, [])) }];
  });
  const partIds = new Set(lines.flatMap(({ part }) => part ?? []));
  const partName = (id: string): string => terms.find((term) => term.of === 'part' && term.id === id)?.names[0] ?? id.replaceAll('-', ' ');
  return {
    sections,
    find: {
      groups: [...inZones, ...elsewhere],
      parts: [...partIds].map((id) => ({ id, name: partName(id) })).sort((a, b) => byCodeUnit(a.name, b.name)),
      terms: terms.map(({ of, names, also }) => `${of === 'condition' ? '=' : ''}${[...new Set([...names, ...also])].join('|')}`),
    },
  };
}

function termNumbers(terms: DossierIndex['terms'], of: DossierIndex['terms'][number]['of'], id: string): number[] {
  return terms.flatMap((term, index) => (term.of === of && term.id === id ? [index] : []));
}

/**
 * Numbers of the terms a text is about: those one of whose names it carries as whole words, and its part. Further spellings
 * are left to what is typed: "there" in a sentence does not make it one about what is in place.
 */
function taggerOf(terms: DossierIndex['terms']): (text: string, part: string | null) => number[] {
  // By first word, so that a text is compared with few.
  const byFirst = new Map<string, { name: string; term: number }[]>();
  for (const [term, { names }] of terms.entries()) {
    for (const words of new Set(names.flatMap((name) => [plain(name), `${plain(name)}s`]))) {
      const [first = ''] = words.split(' ');
      byFirst.set(first, [...(byFirst.get(first) ?? []), { name: ` ${words} `, term }]);
    }
  }
  return (text, part) => {
    const words = ` ${plain(text)} `;
    const found = [...new Set(words.trim().split(' '))].flatMap((word) => (byFirst.get(word) ?? []).flatMap(({ name, term }) => (words.includes(name) ? [term] : [])));
    return [...new Set([...found, ...(part === null ? [] : termNumbers(terms, 'part', part))])].sort((a, b) => a - b);
  };
}
