import { numbersFault, riskMixtureSchema, riskValueSchema } from '../../model/risk.ts';
import type { RiskMixture, RiskModel, RiskValue } from '../../model/risk.ts';
import { keyValue, openKeys, recordError, wordList } from './records.ts';
import type { Keys, RecordItem, RecordText } from './records.ts';

/** Ids the program asks for by name: without one of them nothing can be weighed. */
const neededRiskIds: readonly string[] = [
  'leak', 'opening-sound', 'opening-sealed-over', 'opening-ageing', 'opening-hardened', 'opening-cracked', 'opening-loose', 'opening-perished', 'opening-missing',
  'place-wheel-spray', 'place-road-spray', 'place-rain', 'place-indoors', 'unseen-plug', 'unseen-seam', 'unseen-hole', 'unseen-drain-blocked', 'slow-drain-blocked',
  'water-standing', 'water-silt', 'water-damp', 'water-rust', 'unseen-salt', 'unseen-kept', 'rate-spread', 'rate-dry-kept', 'heavy-salt-higher',
  'exponent-dry', 'exponent-wet', 'exponent-salt', 'exponent-packed',
  'protection-wax-good', 'protection-wax-thin', 'protection-paint', 'protection-none', 'protection-new', 'protection-new-over-rust',
  'unseen-coating', 'unseen-metal', 'loss-sound', 'loss-surface-rust', 'loss-scaling', 'pit-depth', 'thin-left', 'pit-factor', 'sheet', 'look-hours',
];

/**
 * `content/risk-model.md`: every number of the shared risk model. A value is `- id: low / likely / high`, a mixture
 * `- id: share, share, …` with `states`; each has a name and one line of reason. Throws with file and line.
 */
export function riskOf(record: RecordText, conditionIds: readonly string[]): RiskModel {
  const keys = openKeys(record.items, record.file, 1);
  const version = keys.text('version');
  keys.text('source');
  keys.text('checked');
  keys.done();
  if (!version) throw recordError(record.file, 1, 'has no version');
  const model: RiskModel = { version, values: [], mixtures: [], changed: [] };
  const lines = new Map<string, number>();
  for (const item of [...record.sections.values()].flatMap((section) => section.items)) {
    const made = assumptionOf(item, record, conditionIds);
    if (lines.has(made.id)) throw recordError(record.file, item.line, `gives "${made.id}" twice`);
    lines.set(made.id, item.line);
    if ('shares' in made) model.mixtures.push(made);
    else model.values.push(made);
  }
  const missing = neededRiskIds.filter((id) => !lines.has(id));
  if (missing.length > 0) throw recordError(record.file, 1, `lacks ${missing.join(', ')}`);
  const unknown = [...lines.keys()].find((id) => !neededRiskIds.includes(id));
  if (unknown !== undefined) throw recordError(record.file, lines.get(unknown) ?? 1, `gives "${unknown}", which nothing uses`);
  return model;
}

function assumptionOf(item: RecordItem, record: RecordText, conditionIds: readonly string[]): RiskValue | RiskMixture {
  const head = keyValue(item.text);
  if (!head?.value) throw recordError(record.file, item.line, `is no assumption: "${item.text}"; expected "id: low / likely / high"`);
  const keys = openKeys(item.children, record.file, item.line);
  const common = { id: head.key, name: keys.text('name'), source: keys.text('source') ?? 'our judgement', why: keys.text('why') };
  const states = keys.words('states');
  const made = states.length > 0 ? mixtureOf(head.value, { ...common, states }, item, record) : valueOf(head.value, common, keys, item, record);
  keys.done();
  const fault = numbersFault(made, 'shares' in made ? made.shares : [made.low, made.likely, made.high]);
  if (fault !== '') throw recordError(record.file, item.line, `gives "${made.id}" ${fault}`);
  const strange = 'conditions' in made ? made.conditions.find((id) => !conditionIds.includes(id)) : undefined;
  if (strange !== undefined) throw recordError(record.file, keys.line('conditions'), `names an unknown condition "${strange}"`);
  return made;
}

function mixtureOf(text: string, common: object, item: RecordItem, record: RecordText): RiskMixture {
  const result = riskMixtureSchema.safeParse({ ...common, shares: wordList(text).map(Number) });
  if (!result.success) throw recordError(record.file, item.line, `has a wrong or missing ${result.error.issues[0]?.path.join('.') ?? 'value'}`);
  return result.data;
}

function valueOf(text: string, common: object, keys: Keys, item: RecordItem, record: RecordText): RiskValue {
  const [low, likely, high] = text.split('/').map((part) => Number(part.trim()));
  const value = { ...common, low, likely, high, unit: keys.text('unit') ?? '', spread: keys.number('spread') ?? 0, conditions: keys.words('conditions') };
  const result = riskValueSchema.safeParse(value);
  if (!result.success) throw recordError(record.file, item.line, `has a wrong or missing ${result.error.issues[0]?.path.join('.') ?? 'value'}`);
  return result.data;
}
