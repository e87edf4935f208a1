import type { Inspection, Step } from '../model/inspection.ts';
import { byCodeUnit } from '../model/order.ts';
import { inSentence, termIn, zoneIsStructure, zonePhrase } from '../model/wording.ts';
import { listText } from '../units.ts';
import { lookCautions } from './cautions.ts';
import type { Ranked } from './ranked.ts';
import { usualOrder } from './suggest.ts';
import { sentence } from './works.ts';

/** Rank 2: what the work as written needs and nobody wrote, in the usual order, each with the damage it prevents. One step for all zones. */
export function needsStep(inspection: Inspection): Ranked[] {
  const { language } = inspection.job.settings;
  const wanted = inspection.zones.flatMap((zone) => usualOrder(inspection, zone).map((need) => ({ zone, ...need })));
  if (wanted.length === 0) return [];
  const zones = inspection.zones.filter((zone) => wanted.some((one) => one.zone === zone));
  const kinds = [...new Set(wanted.map(({ kind }) => kind))].sort((a, b) => a.order - b.order || byCodeUnit(a.id, b.id));
  const lines = kinds.map((kind) => {
    const all = wanted.filter((one) => one.kind === kind);
    const where = all.length === zones.length && zones.length > 1 ? 'all of them' : listText(all.map((one) => zonePhrase(one.zone.zone, language)));
    return sentence(`${inSentence(termIn(kind.name, language))} (${where}): ${all[0]?.why ?? kind.why}`);
  });
  const what = lines.join(' ');
  const step: Step = {
    id: 'step-needs',
    zone: '',
    zones: zones.map((zone) => zone.zone.id),
    title: 'What the work as written needs besides',
    rank: 2,
    stopsWater: false,
    structure: zones.some(zoneIsStructure),
    outcome: 'defect',
    why: 'The order of work prevents damage. These belong to the work as written, and no line names them.',
    what,
    suggested: true,
    hours: null,
    worth: null,
    cautions: lookCautions(inspection, zones, what),
    answers: [],
  };
  return [{ step, value: 0, badness: 0, order: 0 }];
}
