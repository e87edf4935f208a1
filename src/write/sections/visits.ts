import type { Block, Inline, Section } from '../../model/dossier.ts';
import type { Between, Change } from '../../model/comparison.ts';
import { clausesText, faultsOf } from '../../model/faults.ts';
import type { Visit } from '../../model/visits.ts';
import { capital, zoneName } from '../../model/wording.ts';
import { byCodeUnit } from '../../model/order.ts';
import { countText, dateText, listText } from '../../units.ts';
import { metaText, nameOfZone } from '../context.ts';
import type { Context } from '../context.ts';
import { bullets, heading, lead, paragraph } from '../inline.ts';
import { changeText, laterText, thingName, turnCounts, visitName, zoneLink } from '../over-time.ts';
import { proseBlocks } from '../prose.ts';
import { materialText, visitText } from '../record.ts';

/** Each visit in turn: who came and why, what was done until then, what had become of things. Nothing where there was one. */
export function visits(context: Context): Section | null {
  const { comparison } = context;
  if (!comparison) return null;
  const [first] = comparison.visits;
  const last = comparison.visits.at(-1);
  return {
    id: 'visits',
    title: 'The story so far',
    page: 'index',
    nav: 'The story so far',
    breakBefore: false,
    blocks: [
      ...(first && last ? [lead(`${capital(countText(comparison.visits.length, 'visit', 'visits'))}, from ${visitName(first)} to ${visitName(last)}. Each was written down on its day and is told here as it was; nothing was added to an earlier one afterwards.`)] : []),
      ...comparison.visits.flatMap((visit, at) => chapter(context, visit, at)),
      ...next(context),
    ],
  };
}

function chapter(context: Context, visit: Visit, at: number): Block[] {
  const { comparison } = context;
  const before = comparison?.visits[at - 1];
  const between = comparison?.between[at - 1];
  const later = before ? laterText(before, visit) : '';
  return [
    heading([capital(visitName(visit)), ...(later === '' ? [] : [later])].join(', ')),
    paragraph(whoAndWhy(visit, before)),
    ...work(context, visit),
    ...(before && between ? became(context, between, visitName(before)) : found(context, visit)),
    ...narratives(context, visit),
  ];
}

/** What is still open: work planned and not done, decisions, dates to look again, zones nobody has looked at for some time. */
function next(context: Context): Block[] {
  const { again, record } = context.plan;
  const planned = record.undertakings.flatMap((one): Inline[] => (one.planned === null || one.entries.length > 0 ? [] : [[...zoneLink(context, one.zone), `. Planned on ${visitText(one.planned.visit)}, not written as done: ${one.planned.work.steps}.`]]));
  const asked = (context.comparison?.visits ?? []).flatMap((visit) => visit.inspection.zones.flatMap((zone) => zone.notes.filter((note) => note.key === 'ask').map((note): Inline => [...zoneLink(context, zone.zone.id), `. Asked on ${visitName(visit)}: ${note.words}`])));
  const dates = [...new Set(again.filter((one) => one.state !== 'looked' && one.due !== '').map(({ due }) => due))].sort(byCodeUnit);
  const looks = dates.map((due): Inline => {
    const zones = [...new Set(again.filter((one) => one.state !== 'looked' && one.due === due).map(({ zone }) => nameOfZone(context, zone)))];
    const over = again.every((one) => one.due !== due || one.state === 'looked' || one.state === 'due');
    return [`${over ? 'Was to be looked at again' : 'To look at again'} ${/-\d{2}-\d{2}$/.test(due) ? 'on' : 'in'} ${dateText(due)}${over ? ', and was not' : ''}: ${zones.join('; ')}.`];
  });
  const all = [...looks, ...planned, ...asked];
  return all.length === 0 ? [] : [heading('What comes next'), ...bullets(all)];
}

/** "R. Hollis looked at the car for the buyer, before purchase. Place: …" */
function whoAndWhy({ inspection }: Visit, before: Visit | undefined): string {
  const { visit, car } = inspection.job.notes;
  const [by, wanted, place, miles, history] = [metaText(visit, 'by'), metaText(visit, 'for'), metaText(visit, 'place'), metaText(car, 'mileage'), metaText(car, 'history')];
  const stopped = (text: string): string => (/[.!?]$/.test(text) ? text : `${text}.`);
  return [
    stopped(`${by === null ? 'The inspector, not named,' : by.includes(',') ? `${by},` : by} looked at the car${wanted === null ? '' : ` for ${wanted}`}`),
    ...(place === null ? [] : [stopped(`Place: ${place}`)]),
    ...(miles === null ? [] : [stopped(`It stood at ${miles}`)]),
    ...(history === null || (before && metaText(before.inspection.job.notes.car, 'history') === history) ? [] : [stopped(`Its history as told then: ${history}`)]),
  ].join(' ');
}

/** Work written as done, by date: what, when, by whose hands, with which materials, what was kept. */
function work(context: Context, visit: Visit): Block[] {
  const done = visit.plan.work.flatMap(({ zone, work: one }) => one.done.map((line) => ({ zone, line, steps: one.steps }))).sort((a, b) => byCodeUnit(a.line.date ?? '~', b.line.date ?? '~'));
  if (done.length === 0) return [];
  const said = done.map(({ zone, line, steps }): Inline => {
    const who = [line.date === null ? 'day not written' : dateText(line.date), ...(line.hands.length > 0 ? [listText(line.hands)] : [])].join(', ');
    const extra = [...line.materials.map((one) => `with ${materialText(one)}`), ...line.kept.map((one) => `kept: ${one}`)];
    return [...zoneLink(context, zone), `. ${capital([line.did.join(', ') || steps, ...extra].join('; '))} (${who}).`];
  });
  return [paragraph({ text: 'Done until then:', strong: true }), ...bullets(said)];
}

/** The most zones of a first visit that are told one by one. */
const mostZones = 5;

/** What a first visit found: how much was seen, and the zones its own first steps began with. */
function found(context: Context, { inspection, plan }: Visit): Block[] {
  const { zones, coverage, job } = inspection;
  const entered = zones.filter((zone) => zone.entered);
  const faulty = entered.filter((zone) => zone.state === 'defect');
  const seen = `${capital(countText(entered.length, 'zone was', 'zones were'))} looked at; of ${countText(coverage.known, 'known opening', 'known openings')}, ${coverage.seen} ${coverage.seen === 1 ? 'was' : 'were'} seen.`;
  if (faulty.length === 0) return [paragraph(`${seen} No defect was written down.`)];
  const order = [...new Set([...plan.steps.flatMap((step) => step.zones), ...faulty.map((zone) => zone.zone.id)])];
  const first = order.flatMap((id) => faulty.filter((zone) => zone.zone.id === id)).slice(0, mostZones);
  const more = faulty.length > first.length ? 'What mattered most' : 'What was found';
  return [
    paragraph(`${seen} Defects were written down in ${countText(faulty.length, 'zone', 'zones')}. `, { text: `${more}:`, strong: true }),
    ...bullets(first.map((zone): Inline => [...zoneLink(context, zone.zone.id), `. ${capital(clausesText(faultsOf(job.catalogue, zone, context.language), 4))}.`])),
  ];
}

/** What had become of things since the visit before, a line for each zone. */
function became(context: Context, { changes, zonesLeft }: Between, day: string): Block[] {
  const zones = [...new Set(changes.map(({ zone }) => zone))];
  const left = zonesLeft.length === 0 ? '' : ` ${capital(countText(zonesLeft.length, 'zone', 'zones'))} written about on ${day} ${zonesLeft.length === 1 ? 'was' : 'were'} not looked at again.`;
  if (changes.length === 0) return [paragraph(`Of what was looked at again, nothing had changed since ${day}.${left}`)];
  return [
    paragraph({ text: `What had become of it since ${day}: `, strong: true }, `${turnCounts(changes)}.${left}`),
    ...bullets(zones.map((zone): Inline => [...zoneLink(context, zone), `. ${changes.filter((change) => change.zone === zone).map((change) => sentence(context, change)).join(' ')}`])),
  ];
}

function sentence(context: Context, change: Change): string {
  return `${capital(thingName(context, change))}: ${changeText(change)}.`;
}

/** The inspector's own words, zone by zone, as typed. */
function narratives(context: Context, { inspection }: Visit): Block[] {
  return inspection.zones.flatMap((zone) => {
    const prose = zone.narrative.flatMap((one) => proseBlocks(one.text));
    return prose.length === 0 ? [] : [paragraph({ text: `In the inspector’s words, ${zoneName(zone.zone, context.language)}:`, quiet: true }), { type: 'quote' as const, blocks: prose }];
  });
}
