import type { Block, BlockOf, Inline } from '../model/dossier.ts';
import type { CostLine, Ends, Estimate, Sum, Total } from '../model/cost.ts';
import { partsName, workName } from '../model/dossier-work.ts';
import type { Rate, Rates, Tax } from '../model/rates.ts';
import { capital, inSentence, partText, termIn } from '../model/wording.ts';
import { amountAmongText, amountRangeText, amountSpreadText, amountText, countText, hoursText, listText, litresText, numberText, spanText } from '../units.ts';
import { nameOfZone } from './context.ts';
import type { Context } from './context.ts';
import { aside, bullets, cell, facts, joined, link, paragraph, table } from './inline.ts';

type Row = BlockOf<'table'>['rows'][number];

/** What the work costs in all, with both ends of how the items hang together, what is not in it, and how it is worked out. */
export function totalBlocks(context: Context): Block[] {
  const { estimate } = context.plan;
  if (estimate.lines.length === 0) return leftOut(context);
  const toDo = estimate.lines.filter((line) => !line.spent).length;
  return [
    ...totalLines('To do', estimate.totals, toDo, estimate.unpriced.toDo, estimate.tax),
    ...totalLines('Written as done', estimate.spent, estimate.lines.length - toDo, estimate.unpriced.spent, estimate.tax),
    ...(estimate.totals.length > 1 || estimate.spent.length > 1 ? [aside('Amounts in different currencies are not converted: each currency has a total of its own.')] : []),
    ...leftOut(context),
    ...(estimate.totals.some(varies) || estimate.spent.some(varies) ? [aside(howSummed)] : []),
  ];
}

/** "To do, without tax: EUR 521 on average; between …; 4 items carry no price and are not in it", one for each currency. */
function totalSentences(name: string, totals: readonly Total[], lines: number, unpriced: number, tax: Tax | null): string[] {
  if (lines === 0) return [];
  const without = unpriced === 0 ? '' : `; ${countText(unpriced, 'item carries', 'items carry')} no price and ${unpriced === 1 ? 'is' : 'are'} not in it`;
  if (totals.length === 0) return [`${name}: no total, as ${lines === 1 ? 'the only item carries no price' : `none of the ${lines} items carries a price`}.`];
  return totals.flatMap((total) => [
    `${name}, without tax: ${sumText(total, total.currency)}${without}.`,
    ...(total.withTax && tax ? [`${name}, with tax at ${tax.percent} %: ${sumText(total.withTax, total.currency)}.`] : []),
  ]);
}

function totalLines(...given: Parameters<typeof totalSentences>): Block[] {
  return totalSentences(...given).map((sentence) => {
    const [head = '', ...rest] = sentence.split(': ');
    return paragraph({ text: `${head}: `, strong: true }, rest.join(': '));
  });
}

/** "EUR 521 on average; between EUR 410 and 655 if the items vary independently, EUR 380 to 690 if they all run high or low together". */
function sumText(sum: Sum, currency: string): string {
  const { mean, independent, tied } = sum;
  if (!varies(sum)) return amountText(mean, currency);
  const average = `${amountAmongText(mean, tied.low, tied.high, currency)} on average`;
  const between = ({ low, high }: Ends): string => `between ${amountRangeText(low, high, currency, ' and ')}`;
  if (independent.low === tied.low && independent.high === tied.high) return `${average}, ${between(tied)}`;
  return `${average}; ${between(independent)} if the items vary independently, ${amountRangeText(tied.low, tied.high, currency)} if they all run high or low together`;
}

function varies({ independent, tied }: Sum): boolean {
  return independent.low !== independent.high || tied.low !== tied.high;
}

const howSummed =
  'In 10 of 100 cases the cost stays below the first figure of a range, in 90 of 100 below the second. Each item is taken to run from low over likely to high as a PERT distribution does, with the exact variance of its beta distribution. Averages add. If the items vary independently their variances add, and the two figures are those of the beta distribution between the sum of all lows and the sum of all highs that has the summed average and variance, which is an approximation; if they run together, the figures of the items add. How far they hang together is not known, so both ends are given.';

/** What no total holds: defects without work, and all that nobody saw. */
function leftOut(context: Context): Block[] {
  const { unplanned, suggested } = context.plan.estimate;
  const zones: Inline = joined(unplanned.map((zone) => [link(nameOfZone(context, zone), zone)]), '; ');
  return [
    ...(unplanned.length === 0 ? [] : [paragraph(`No work is written for ${countText(unplanned.length, 'zone with a defect', 'zones with defects')}, so nothing of ${unplanned.length === 1 ? 'it' : 'them'} is in any total: `, ...zones, '.')]),
    aside(`Nothing is in a total for what nobody saw${suggested.length === 0 ? '' : ', nor for parts that are only suggested'}. All rates and prices are the user’s own; none is built in.`),
  ];
}

/** What a work costs in labour, in a cell: an amount, or why there is none. */
export function labourText(lines: readonly CostLine[]): string {
  if (lines.length === 0) return 'waiting only, no labour';
  return lines.map((line) => {
    const kind = lines.length > 1 && line.labour.length > 0 ? `${listText(line.labour)}: ` : '';
    const amount = amountOrReason(line);
    return `${kind}${amount}${line.kind === 'whole work' && line.amount ? ', written for the whole work and taken for its labour' : ''}`;
  }).join('; ');
}

function amountOrReason(line: CostLine): string {
  return line.amount && line.currency ? amountSpreadText(line.amount, line.currency) : `unpriced: ${line.reason}`;
}

/** Parts summed over the work by name and size, prices as written, then what the register calls for and nobody lists. */
export function partsTables(context: Context): Block[] {
  const { parts, estimate } = context.plan;
  const zonesText = (zones: readonly string[]): string => zones.map((zone) => nameOfZone(context, zone)).join('; ');
  const written = parts.map((part): Row => ({
    cells: [
      cell(part.size && !part.name.includes(part.size) ? `${part.name}, ${part.size}` : part.name),
      cell(part.used === 0 ? String(part.count) : `${part.count}, ${part.used} of them used`),
      cell(part.price ?? 'unpriced'),
      cell(part.sums.length === 0 ? 'unpriced' : listText([...part.sums.map(({ amount, currency }) => amountSpreadText(amount, currency)), ...(part.unpriced > 0 ? [`${part.unpriced} unpriced`] : [])])),
      cell(zonesText(part.zones)),
    ],
  }));
  const suggested = estimate.suggested.map(({ part, size, cable, count, zones }): Row => ({
    cells: [cell([`${partText(part, '', context.language)}${size ? ` ${size}` : ', size not written'}`, cable ?? ''].filter((text) => text !== '').join(', ')), cell(String(count)), cell(zonesText(zones))],
  }));
  return [
    ...table('Parts as written, summed', [['Part', 4], ['Number>', 1], ['Price', 3], ['Together>', 3], ['For', 4]], written),
    ...table('Parts suggested: openings that usually take a new part, and no part line in their zone', [['Part', 5], ['Number>', 1], ['For', 6]], suggested),
  ];
}

/** Wax and paint by area: advice, with the assumptions it rests on. */
export function materialBlocks(context: Context): Block[] {
  const { estimate } = context.plan;
  const { catalogue } = context.inspection.job;
  const rows = estimate.materials.map((need): Row => {
    const record = catalogue.materials.find((one) => one.id === need.material);
    const zone = context.zones.get(need.zone);
    const cavities = zone?.zone.record.cavities.filter((cavity) => need.cavities.includes(cavity.id)).map((cavity) => inSentence(cavity.name)) ?? [];
    const line = estimate.lines.find((one) => one.kind === 'material' && one.work === need.work && one.name === record?.name.gb);
    return {
      cells: [
        cell(link(nameOfZone(context, need.zone), need.zone), `; ${listText(cavities)}`),
        cell(record ? inSentence(termIn(record.name, context.language)) : need.material),
        cell(`${numberText(need.areaM2, 2)} m²`),
        cell(litresText(need.litres)),
        cell(need.named ? 'in the parts, not counted again' : line ? amountOrReason(line) : 'unpriced'),
      ],
    };
  });
  const used = catalogue.materials.flatMap((material) => estimate.materials.filter((need) => need.material === material.id).slice(0, 1).map((need) => ({ material, need })));
  const assumed = used.map(({ material, need }): Inline => {
    const own = context.inspection.job.settings.materials?.[material.id as 'wax' | 'paint'] ?? {};
    const whose = (key: 'filmUm' | 'solidsPercent' | 'lossPercent'): string => (own[key] === undefined ? 'our judgement' : 'from sillbook.json');
    return [`${capital(termIn(material.name, context.language))}: dry film ${spanText(need.filmUm)} µm (${whose('filmUm')}), which is ${spanText(need.wetFilmUm)} µm wet; solids by volume ${spanText(need.solidsPercent)} % (${whose('solidsPercent')}); lost ${spanText(need.lossPercent)} % (${whose('lossPercent')}).`];
  });
  return rows.length === 0 ? [] : [
    ...table('Wax and paint worked out from the area', [['Zone and closed sections', 5], ['Material', 2], ['Area, assumed>', 2], ['Litres', 3], ['Cost', 4]], rows),
    aside('A quantity is advice. The areas of the closed sections are assumed, our judgement, and not measured on this car. Litres are the area times the dry film, divided by the solids and by what is not lost.'),
    ...bullets(assumed),
  ];
}

/** Hours by kind of labour; several kinds that share one time stand together. */
export function labourTable(context: Context): Block[] {
  const rows = context.plan.estimate.labour.map(({ labour, hours, zones, waits, amounts, unpriced }): Row => {
    const without = unpriced > 0 ? [`${countText(unpriced, 'time', 'times')} without a rate of ${unpriced === 1 ? 'its' : 'their'} own`] : [];
    return {
      cells: [
        cell(waits ? 'waiting' : listText(labour) || 'no kind of work named'),
        cell(hoursText({ ...hours, judged: false })),
        cell(waits ? 'no labour' : listText([...amounts.map(({ amount, currency }) => amountSpreadText(amount, currency)), ...without])),
        cell(zones.map((zone) => nameOfZone(context, zone)).join('; ')),
      ],
    };
  });
  return table('Hours to do, by kind of labour', [['Labour', 4], ['Hours', 3], ['Labour cost', 4], ['For', 4]], rows);
}

/** What is unpriced, and why: a line for each reason. It is not nothing. */
export function unpricedBlocks(context: Context): Block[] {
  const lines = context.plan.estimate.lines.filter((line) => line.amount === null);
  const reasons = [...new Set(lines.map((line) => line.reason))];
  const said = reasons.map((reason): Inline => {
    const named = lines.filter((line) => line.reason === reason).map((line) => `${nameOfZone(context, line.zone)}: ${line.kind === 'whole work' ? `cost of “${line.name}”` : line.name}${line.spent ? ' (done)' : ''}`);
    return [{ text: `${capital(reason)}: `, strong: true }, `${[...new Set(named)].join('; ')}.`];
  });
  return said.length === 0 ? [] : [aside(`Without a price: ${countText(lines.length, 'item', 'items')}. Unpriced does not mean free.`), ...bullets(said)];
}

/** The rates and the tax that were counted with, and where each was set. */
export function rateFacts(context: Context): Block[] {
  const { rates } = context.inspection.job;
  return [
    ...facts([
      ...(rates.labour ? [{ term: 'Labour', value: [rateText(rates.labour)] }] : []),
      ...rates.byKind.map(({ kind, rate }) => ({ term: `Labour, ${kind}`, value: [rateText(rate)] })),
      { term: 'Tax', value: [rates.tax ? taxText(rates.tax) : 'none set; every amount is as written, without tax'] },
    ]),
    ...overridden(rates),
  ];
}

function rateText(rate: Rate): string {
  const amount = rate.currency === null ? `${rate.text}, no currency, so it prices nothing` : `${amountSpreadText(rate, rate.currency)} an hour`;
  return `${amount}; set in ${rate.from === 'findings' ? 'the findings' : rate.from}`;
}

/** "20 % on top, rounded half up, once on each sum; set in the findings". */
function taxText(tax: Tax): string {
  const how = { 'half-up': 'rounded half up, away from zero', 'half-even': 'rounded half to even', down: 'rounded down, towards zero' }[tax.rounding];
  const where = tax.per === 'line' ? 'on every line' : 'once on each sum';
  const ours = tax.assumed.map((key) => (key === 'per' ? 'on what it is rounded' : 'how it is rounded'));
  return `${tax.percent} % on top, ${how}, ${where}; set in ${tax.from === 'findings' ? 'the findings' : tax.from}${ours.length > 0 ? `; ${listText(ours)} is not set and is our choice` : ''}`;
}

function overridden({ overridden: names }: Rates): Block[] {
  return names.length === 0 ? [] : [aside(`The findings and sillbook.json differ for ${listText(names.map((name) => `“${name}”`))}: the findings are taken.`)];
}

/** Where the same stands as tables for a spreadsheet. */
export function tablesNamed(estimate: Estimate): Block[] {
  if (estimate.lines.length + estimate.suggested.length === 0) return [];
  return [aside('The same as tables for a spreadsheet: ', { text: workName, code: true }, ' and ', { text: partsName, code: true }, ', beside this dossier.')];
}
