import type { Block, Inline, Section } from '../../model/dossier.ts';
import type { Between, Change } from '../../model/comparison.ts';
import { clausesText, faultsOf } from '../../model/faults.ts';
import type { Visit } from '../../model/visits.ts';
import { capital, zoneName } from '../../model/wording.ts';
import { countText } from '../../units.ts';
import { metaText, nameOfZone } from '../context.ts';
import type { Context } from '../context.ts';
import { bullets, heading, lead, paragraph } from '../inline.ts';
import { changeText, laterText, thingName, turnCounts, visitName, zoneLink } from '../over-time.ts';
import { proseBlocks } from '../prose.ts';
import { doneText } from '../work.ts';

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
    paragraph(whoAndWhy(visit)),
    ...work(context, visit),
    ...(before && between ? became(context, between, visitName(before)) : found(context, visit)),
    ...narratives(context, visit),
  ];
}

/** "R. Hollis looked at the car for the buyer, before purchase. Place: …" */
function whoAndWhy({ inspection }: Visit): string {
  const { visit, car } = inspection.job.notes;
  const [by, wanted, place, miles, history] = [metaText(visit, 'by'), metaText(visit, 'for'), metaText(visit, 'place'), metaText(car, 'mileage'), metaText(car, 'history')];
  const stopped = (text: string): string => (/[.!?]$/.test(text) ? text : `${text}.`);
  return [
    stopped(`${by === null ? 'The inspector, not named,' : by.includes(',') ? `${by},` : by} looked at the car${wanted === null ? '' : ` for ${wanted}`}`),
    ...(place === null ? [] : [stopped(`Place: ${place}`)]),
    ...(miles === null ? [] : [stopped(`It stood at ${miles}`)]),
    ...(history === null ? [] : [stopped(`Its history as told then: ${history}`)]),
  ].join(' ');
}

/** Work written as done, by date. */
function work(context: Context, { plan }: Visit): Block[] {
  const done = plan.work.flatMap(({ zone, work: one }) => one.done.map((line) => ({ zone, line }))).sort((a, b) => ((a.line.date ?? '9') < (b.line.date ?? '9') ? -1 : 1));
  if (done.length === 0) return [];
  return [paragraph({ text: 'Done until then', strong: true }), ...bullets(done.map(({ zone, line }): Inline => [...zoneLink(context, zone), `. ${doneText(line)}.`]))];
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
    const [name, current] = [zoneName(zone.zone, context.language), inspection === context.inspection];
    // The newest visit's own words stand in full on the pages of its zones.
    return prose.length === 0 || current ? [] : [paragraph({ text: `In the inspector’s words, ${name || nameOfZone(context, zone.zone.id)}:`, quiet: true }), { type: 'quote' as const, blocks: prose }];
  });
}
