import type { Block, BlockOf, Section } from '../../model/dossier.ts';
import type { LaterLook } from '../../model/comparison.ts';
import type { CavityOutlook } from '../../model/inspection.ts';
import type { Visit } from '../../model/visits.ts';
import { inSentence } from '../../model/wording.ts';
import { countText, hundredText, numberText } from '../../units.ts';
import type { Context } from '../context.ts';
import { aside, cell, heading, lead, paragraph, table } from '../inline.ts';
import { visitName, zoneLink } from '../over-time.ts';
import { fiveYears } from '../outlook.ts';

type Row = BlockOf<'table'>['rows'][number];

/** Each visit's outlook at its own date, and what later looks say of it. Nothing where there was one visit. */
export function hindsight(context: Context): Section | null {
  const { comparison } = context;
  if (!comparison) return null;
  return {
    id: 'hindsight',
    title: 'Outlooks over time',
    page: 'outlook',
    nav: 'Outlooks over time',
    breakBefore: false,
    blocks: [
      ...checked(context, comparison.laterLooks),
      ...sideBySide(context, comparison.visits),
      aside('Each outlook was worked out for its own day, from what was seen on that day alone. One that changes between two visits was not wrong for that: more was seen, water was kept out, or years went by.'),
    ],
  };
}

/** What a later look showed of sections that an earlier outlook had spoken of. */
function checked(context: Context, looks: readonly LaterLook[]): Block[] {
  if (looks.length === 0) return [lead('No later visit has shown yet whether a section that an earlier outlook spoke of is through: nothing bears it out, and nothing speaks against it.')];
  const through = looks.filter((look) => look.through).length;
  const expected = looks.reduce((sum, look) => sum + look.chance.middle, 0);
  const against = looks.filter((look) => look.against);
  const said = against.length === 0 ? 'No look speaks against the outlook before it.' : `${countText(against.length, 'look speaks', 'looks speak')} against the outlook before it, and ${against.length === 1 ? 'is' : 'are'} marked.`;
  return [
    lead(`Later visits showed ${countText(looks.length, 'section', 'sections')} that an earlier outlook had spoken of: ${through === 0 ? 'none was' : `${through} ${through === 1 ? 'was' : 'were'}`} through, where the outlooks led to expect ${numberText(expected, 1)}. ${said}`),
    ...table('Earlier outlooks and later looks', [['Where', 3], ['Section', 3], ['Said on', 3], ['Chance of being through by then', 4], ['Seen on', 3], ['Found', 3]], looks.map((look) => lookRow(context, look))),
  ];
}

function lookRow(context: Context, look: LaterLook): Row {
  const { comparison } = context;
  const day = (at: number): string => (comparison?.visits[at] ? visitName(comparison.visits[at]) : '');
  const found = look.through ? 'through' : 'not through';
  return {
    cells: [
      cell(...zoneLink(context, look.zone)),
      cell(inSentence(look.name)),
      cell(day(look.from)),
      cell(hundredText(look.chance.low, look.chance.high)),
      cell(day(look.to)),
      cell(...(look.against ? [{ text: found, strong: true as const }, ': against the outlook'] : [found])),
    ],
  };
}

/** Sections of zones that were looked at on several visits. */
function sideBySide(context: Context, visits: readonly Visit[]): Block[] {
  const entered = (visit: Visit, zone: string): boolean => visit.inspection.zones.some((one) => one.zone.id === zone && one.entered);
  const of = (visit: Visit, one: CavityOutlook): CavityOutlook | undefined => (entered(visit, one.zone) ? visit.outlook.cavities.find((other) => other.zone === one.zone && other.cavity === one.cavity) : undefined);
  const rows = context.outlook.cavities.flatMap((cavity): Row[] => {
    const told = visits.flatMap((visit) => {
      const chance = of(visit, cavity)?.weighed.left.chances[fiveYears];
      return chance ? [`${visitName(visit)}: ${hundredText(chance.low, chance.high)}`] : [];
    });
    return told.length < 2 ? [] : [{ cells: [cell(...zoneLink(context, cavity.zone)), cell(inSentence(cavity.name)), cell(told.join('; '))] }];
  });
  if (rows.length === 0) return [paragraph('No zone was looked at on more than one visit.')];
  return [heading('Then and now'), ...table('Chance that the steel is through within five years if left, as worked out on each visit', [['Where', 3], ['Section', 4], ['Chance', 7]], rows)];
}
