import type { BlockOf, Inline, Section } from '../../model/dossier.ts';
import type { Life } from '../../model/comparison.ts';
import { listText } from '../../units.ts';
import type { Context } from '../context.ts';
import { aside, cell, link, table } from '../inline.ts';
import { standingText, thingName, visitName, zoneLink } from '../over-time.ts';

/** Every opening, place and reading that was ever seen, with what each visit found. Nothing where there was one visit. */
export function lives(context: Context): Section | null {
  const { comparison } = context;
  if (!comparison) return null;
  const order = new Map([...context.inspection.zones, ...context.earlier.flatMap(({ inspection }) => inspection.zones)].map(({ zone }, index) => [zone.id, index]).toReversed() as [string, number][]);
  const seen = comparison.lives.filter((life) => life.standings.some((standing) => standing?.seen)).sort((a, b) => (order.get(a.zone) ?? 0) - (order.get(b.zone) ?? 0));
  return {
    id: 'lives',
    title: 'Every opening, visit by visit',
    page: 'lives',
    nav: 'Openings over time',
    breakBefore: true,
    blocks: [
      aside('A line for each thing that was seen at one visit at least, under the name it has now. A visit at which nothing was written of it is left out; the last says when it was last looked at.'),
      ...table('What each visit found', [['Zone', 3], ['What', 4], ['What each visit found', 9]], seen.map((life): BlockOf<'table'>['rows'][number] => ({ cells: [cell(...zoneLink(context, life.zone)), cell(nameCell(context, life)), cell(...lifeText(context, life))] }))),
    ],
  };
}

function nameCell(context: Context, life: Life): Inline[number] {
  const id = life.standings.at(-1)?.id ?? '';
  const name = thingName(context, life);
  return id !== '' && context.rows.has(id) ? link(name, id) : name;
}

/** "14 March 2026: missing. 9 May 2026: new (replaced)."; visits in a row that found the same stand together. */
function lifeText(context: Context, { kind, standings }: Life): Inline {
  const visits = context.comparison?.visits ?? [];
  const stretches: { days: string[]; words: string; called: string }[] = [];
  for (const [at, standing] of standings.entries()) {
    const visit = visits[at];
    if (!standing || !visit) continue;
    const words = standingText(standing);
    const last = stretches.at(-1);
    if (last && last.words === words && last.called === standing.place) last.days.push(visitName(visit));
    else stretches.push({ days: [visitName(visit)], words, called: standing.place });
  }
  const name = stretches.at(-1)?.called ?? '';
  return stretches.flatMap(({ days, words, called }, index) => [
    ...(index === 0 ? [] : [' ']),
    { text: `${listText(days)}: `, strong: true as const },
    `${words}${called !== name && kind !== 'openings' && called !== '' ? `, called “${called}”` : ''}.`,
  ]);
}
