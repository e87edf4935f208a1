import type { Term } from '../model/catalogue.ts';
import type { DossierIndex } from '../model/dossier-index.ts';
import { inSentence, rowIsStructure, wordPairs, zoneIsStructure, zoneName } from '../model/wording.ts';
import type { Context } from './context.ts';

type IndexTerm = DossierIndex['terms'][number];

/** The zones, what its things are also called, and what carries load. Only names of things this dossier is about. */
export function indexData(context: Context): DossierIndex {
  const { zones } = context.inspection;
  return {
    zones: zones.map((zone) => ({ id: zone.zone.id, name: zoneName(zone.zone, context.language), kind: zone.zone.record.id, carriesLoad: zoneIsStructure(zone) })),
    terms: termsOf(context),
    carriesLoad: [
      ...zones.flatMap((zone) => [...zone.rows.filter((row) => rowIsStructure(zone, row)), ...zone.observations.filter((one) => one.structure)].map(({ id }) => id)),
      ...context.plan.steps.filter((step) => step.structure).map(({ id }) => id),
    ],
  };
}

function termsOf(context: Context): IndexTerm[] {
  const { zones, job } = context.inspection;
  const { catalogue } = job;
  const findings = zones.flatMap((zone) => [...zone.rows.flatMap((row) => row.findings), ...zone.observations.map((one) => one.finding)]);
  const used = {
    zones: new Set(zones.map((zone) => zone.zone.record.id)),
    parts: new Set(zones.flatMap((zone) => [...zone.rows, ...zone.observations]).map((one) => one.part.id)),
    conditions: new Set([...findings.flatMap((finding) => finding.conditions), ...zones.flatMap((zone) => zone.rows.flatMap((row) => row.conditions))]),
  };
  const names = (...terms: Term[]): string[] => [...new Set(terms.flatMap(({ gb, us }) => (context.language === 'en-US' ? [us, gb] : [gb, us])).map(inSentence))];
  const things = [
    ...catalogue.zones.filter(({ id }) => used.zones.has(id)).map(({ id, name, also }): IndexTerm => ({ of: 'zone', id, names: names(name), also })),
    ...catalogue.parts.filter(({ id }) => used.parts.has(id)).map(({ id, name, plural, also }): IndexTerm => ({ of: 'part', id, names: names(name, plural), also })),
    ...catalogue.conditions.filter(({ id }) => used.conditions.has(id)).map(({ id, name, also }): IndexTerm => ({ of: 'condition', id, names: names(name), also })),
  ];
  const pairs = wordPairs().map(([gb, us]): IndexTerm => ({ of: 'word', id: gb, names: names({ gb, us }), also: [] }));
  // A pair that some thing has as its own names would say them twice.
  const own = new Set(things.flatMap(({ names: [first = '', ...others], also }) => [...others, ...also].map((name) => `${first}|${name}`)));
  return [...things, ...pairs.filter(({ names: [one, other] }) => !own.has(`${one}|${other}`))];
}
