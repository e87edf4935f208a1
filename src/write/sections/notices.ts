import type { BlockOf, Section } from '../../model/dossier.ts';
import type { Notice } from '../../model/notice.ts';
import { countText, listText } from '../../units.ts';
import { spotText } from '../context.ts';
import type { Context } from '../context.ts';
import { aside, cell, paragraph, table } from '../inline.ts';

const order = ['error', 'warning', 'note'] as const;

/** All that whoever wrote the findings was told about them. */
export function notices(context: Context): Section {
  const all = order.flatMap((level) => context.notices.filter((notice) => notice.level === level));
  const section = { id: 'notices', title: 'Notices about the findings', page: 'method', nav: 'Notices', breakBefore: false };
  if (all.length === 0) return { ...section, blocks: [paragraph('There was nothing to remark on in the findings and the photos.')] };
  return {
    ...section,
    blocks: [
      aside('The reader of the findings file and the photos said this to the inspector. A notice is about what was written, not about the car.'),
      ...table('Notices', [['Level', 1], ['Where', 2], ['What', 7], ['Rule', 2]], all.map(rowOf)),
    ],
  };
}

function rowOf(notice: Notice): BlockOf<'table'>['rows'][number] {
  const expected = notice.expected ? `, expected ${notice.expected}` : '';
  return {
    cells: [
      cell(notice.level),
      cell(notice.spot ? spotText(notice.spot) : ''),
      cell(`${notice.found}${expected}.${notice.advice ? ` ${notice.advice}` : ''}`),
      cell({ text: notice.rule, code: true }),
    ],
  };
}

/** The same in one sentence, for a reader with no use for the list. */
export function noticesCount(context: Context): Section {
  const names = { error: ['error', 'errors'], warning: ['warning', 'warnings'], note: ['note', 'notes'] } as const;
  const counts = order.flatMap((level) => {
    const count = context.notices.filter((notice) => notice.level === level).length;
    const [one, many] = names[level];
    return count === 0 ? [] : [countText(count, one, many)];
  });
  return {
    id: 'notices-count',
    title: 'Notices about the findings',
    page: 'method',
    nav: 'Notices',
    breakBefore: false,
    blocks: [paragraph(counts.length === 0
      ? 'There was nothing to remark on in the findings and the photos.'
      : `Reading the findings and the photos gave ${listText(counts)}. They are about what was written, not about the car; dossier.json, and the editions for the insurer and for the car’s file, list them in full.`)],
  };
}
