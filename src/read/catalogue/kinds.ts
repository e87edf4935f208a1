import { z } from 'zod';
import {
  bodySchema,
  cautionSchema,
  conditionSchema,
  evidenceSchema,
  materialSchema,
  partSchema,
  reasonSchema,
  viewSchema,
  workKindSchema,
} from '../../model/catalogue.ts';
import type { Body, Caution, Condition, Evidence, Material, Part, Reason, View, WorkKind } from '../../model/catalogue.ts';
import { keyValue, openKeys, recordError, termOf, wordList } from './records.ts';
import type { Keys, RecordItem, RecordText } from './records.ts';

/** What every record has: id, name, further spellings, source. */
export function common(record: RecordText, keys: Keys): Record<string, unknown> {
  // How far a source was read is for whoever corrects the record, not for the dossier.
  keys.text('checked');
  return { id: record.id, name: record.name, also: keys.words('also'), source: keys.text('source') };
}

/** Checks a record by its schema; the message names the line of the key that is wrong. */
export function checked<T>(schema: z.ZodType<T>, value: unknown, record: RecordText, lineOf: (field: string) => number): T {
  const result = schema.safeParse(value);
  if (result.success) return result.data;
  const issue = result.error.issues[0];
  const path = issue?.path ?? [];
  const field = String(path[0] ?? '');
  throw recordError(record.file, lineOf(field), `has a wrong or missing ${path.map(String).join('.') || 'record'}: ${issue?.message ?? 'unknown'}`);
}

/** Items of one section, each once; empty where the record has no such section. */
export function section(record: RecordText, title: string): RecordItem[] {
  return record.sections.get(title)?.items ?? [];
}

/** Throws for a section nobody reads. */
function onlySections(record: RecordText, titles: readonly string[]): void {
  for (const [title, { line }] of record.sections) {
    if (!titles.includes(title)) throw recordError(record.file, line, `has an unknown section "${title}"; expected ${titles.join(', ') || 'none'}`);
  }
}

/** Opens a record that consists of `key: value` items and the named sections. */
export function open(record: RecordText, sections: readonly string[] = []): Keys {
  onlySections(record, sections);
  return openKeys(record.items, record.file, 1);
}

/** Texts of a section of plain items. */
export function texts(record: RecordText, title: string): string[] {
  return section(record, title).map((item) => {
    if (item.children[0]) throw recordError(record.file, item.children[0].line, 'stands under an item that takes none');
    return item.text;
  });
}

function finish<T>(schema: z.ZodType<T>, value: unknown, record: RecordText, keys: Keys, renamed: Record<string, string> = {}): T {
  keys.done();
  return checked(schema, value, record, (field) => record.sections.get(field)?.line ?? keys.line(renamed[field] ?? field));
}

/** A part record: `type`, `group`, `plural`, `meaning`. */
export function partOf(record: RecordText): Part {
  const keys = open(record);
  const plural = keys.text('plural');
  const value = {
    ...common(record, keys),
    type: keys.text('type'),
    group: keys.text('group'),
    plural: plural === undefined ? undefined : termOf(plural, record.file, keys.line('plural')),
    meaning: keys.text('meaning'),
  };
  return finish(partSchema, value, record, keys);
}

/** A condition record: `for`, `outcome`, `badness`, `weakens`, `meaning`, `remedy`, `cautions`, section Examples. */
export function conditionOf(record: RecordText): Condition {
  const keys = open(record, ['examples']);
  const examples = section(record, 'examples').map((item) => {
    const found = /^`(.+)` -> (.+)$/.exec(item.text);
    if (!found) throw recordError(record.file, item.line, `is no example: "${item.text}"; expected "\`a finding\` -> outcome"`);
    return { text: found[1], outcome: found[2] };
  });
  const value = {
    ...common(record, keys),
    for: keys.words('for'),
    outcome: keys.text('outcome'),
    badness: keys.number('badness'),
    weakens: keys.yes('weakens'),
    newPart: keys.yes('new part'),
    meaning: keys.text('meaning'),
    remedy: keys.text('remedy') ?? '',
    cautions: keys.words('cautions'),
    examples,
  };
  return finish(conditionSchema, value, record, keys);
}

/** A body type: section Notes. */
export function bodyOf(record: RecordText): Body {
  const keys = open(record, ['notes']);
  return finish(bodySchema, { ...common(record, keys), notes: texts(record, 'notes') }, record, keys);
}

/** A caution: `order`, `when`, `link`, section Points. */
export function cautionOf(record: RecordText): Caution {
  const keys = open(record, ['points']);
  const value = {
    ...common(record, keys),
    order: keys.number('order'),
    when: keys.text('when'),
    link: keys.text('link'),
    points: texts(record, 'points'),
  };
  return finish(cautionSchema, value, record, keys);
}

/** A grade of evidence: `grade`, `counts`. */
export function evidenceOf(record: RecordText): Evidence {
  const keys = open(record);
  return finish(evidenceSchema, { ...common(record, keys), grade: keys.number('grade'), counts: keys.yes('counts') }, record, keys);
}

/** A reason for not seeing: `to see it`. */
export function reasonOf(record: RecordText): Reason {
  const keys = open(record);
  return finish(reasonSchema, { ...common(record, keys), toSee: keys.text('to see it') }, record, keys, { toSee: 'to see it' });
}

/** A view of the insurer's set: `order`. */
export function viewOf(record: RecordText): View {
  const keys = open(record);
  return finish(viewSchema, { ...common(record, keys), order: keys.number('order') }, record, keys);
}

/** A material: `used by`, and `film`, `solids`, `loss` as low / likely / high. */
export function materialOf(record: RecordText): Material {
  const keys = open(record);
  const three = (key: string, unit: string): number[] => {
    const value = keys.text(key) ?? '';
    const numbers = value.endsWith(` ${unit}`) ? value.slice(0, -unit.length - 1).split('/').map((part) => part.trim()) : [];
    if (numbers.length !== 3 || !numbers.every((part) => /^\d+(\.\d+)?$/.test(part))) throw recordError(record.file, keys.line(key), `needs "${key}: low / likely / high ${unit}"`);
    return numbers.map(Number);
  };
  const value = { ...common(record, keys), usedBy: keys.words('used by'), filmUm: three('film', 'µm'), solidsPercent: three('solids', '%'), lossPercent: three('loss', '%') };
  return finish(materialSchema, value, record, keys, { usedBy: 'used by', filmUm: 'film', solidsPercent: 'solids', lossPercent: 'loss' });
}

/** A kind of work: `order`, `labour`, `effect`, `hot`, `waits`, `after`, `needs`, `where`, `against`, `undoes`, `why`, section Reasons. */
export function workOf(record: RecordText): WorkKind {
  const keys = open(record, ['reasons']);
  const reasons = section(record, 'reasons').map((item) => {
    const pair = keyValue(item.text);
    if (!pair?.value) throw recordError(record.file, item.line, `is no reason: "${item.text}"; expected "id, id: why"`);
    return { of: wordList(pair.key), why: pair.value };
  });
  const value = {
    ...common(record, keys),
    alone: keys.words('alone'),
    beside: keys.words('beside'),
    order: keys.number('order'),
    labour: keys.text('labour'),
    effect: keys.text('effect'),
    hot: keys.yes('hot'),
    waits: keys.yes('waits'),
    after: keys.words('after'),
    needs: keys.words('needs'),
    where: keys.text('where') ?? null,
    against: keys.words('against'),
    undoes: keys.words('undoes'),
    why: keys.text('why') ?? '',
    reasons,
  };
  return finish(workKindSchema, value, record, keys);
}
