import { expect, test } from 'vitest';
import type { Undertaking, WorkRecord } from '../../src/model/record.ts';
import { visitsOf } from '../write/visits-helper.ts';

const rates = '# Rates\n- labour: 50\n- tax: 20 %\n';

/** Lines under the left sill, a visit each, in March, May, October. */
function recordOf(...lines: string[]): WorkRecord {
  const record = visits(...lines).at(-1)?.plan.record;
  if (!record) throw new Error('no record');
  return record;
}

function visits(...lines: string[]): ReturnType<typeof visitsOf> {
  const days = ['2026-03-14', '2026-05-09', '2026-10-20'];
  return visitsOf(lines.map((text, at) => `# Visit\n- seen: ${days[at]} 10:00-11:00\n${rates}# Sill, left\n${text}\n`));
}

function rules(all: ReturnType<typeof visitsOf>): string[] {
  return (all.at(-1)?.plan.notices ?? []).filter((notice) => notice.rule !== 'drain-not-shown').map((notice) => `${notice.level} ${notice.rule}`);
}

function only(record: WorkRecord): Undertaking {
  expect(record.undertakings).toHaveLength(1);
  const [one] = record.undertakings;
  if (!one) throw new Error('none');
  return one;
}

test('work done at a later visit is set beside the estimate of the earlier one', () => {
  const record = recordOf('- do: dry, wax, fit 4 plugs. 2-3 h', '- done: 2026-05-02, dried and waxed, 2.5 h\n- done: 2026-05-04, 4 plugs fitted, 1 h');
  const one = only(record);
  expect(one.planned?.visit).toMatchObject({ date: '2026-03-14', folder: 'visit-1', current: false });
  expect(one.entries.map((entry) => entry.done.date)).toEqual(['2026-05-02', '2026-05-04']);
  expect(one.left).toEqual([]);
  // By hand: 2.5 + 1 = 3.5 h; 3.5 h at EUR 50 is EUR 175, and EUR 210 with 20 %. The estimate is 2 to 3 h.
  expect(record.hours).toMatchObject({ works: 1, took: { low: 3.5, high: 3.5 }, estimated: { low: 2, high: 3 } });
  expect(record.cost.took).toMatchObject([{ currency: 'EUR', mean: 17500, withTax: { mean: 21000 } }]);
  expect(record.cost.estimated).toMatchObject([{ currency: 'EUR', mean: 12500 }]);
});

test('in one visit the work above is the estimate; a cost written then stands before the hours', () => {
  const record = recordOf('- do: wax. 2 h\n  - done: 2026-05-02, waxed, 3 h, EUR 120');
  expect(only(record)).toMatchObject({ hours: { likely: 3 }, planned: { work: { hours: { likely: 2 } } } });
  expect(record.spent).toMatchObject([{ currency: 'EUR', mean: 12000 }]);
});

test('hours that were not written are not those that were estimated, and unpriced is not nothing', () => {
  const record = recordOf('- do: wax. 2 h\n  - done: 2026-05-02, waxed');
  expect(only(record).hours).toBeNull();
  expect(record).toMatchObject({ hours: { works: 0, took: null }, cost: { works: 0, took: [] }, spent: [], unpriced: 1 });
});

test('a work done in part is no comparison, and what is left of it is named', () => {
  const record = recordOf('- do: dry, wax, fit plugs. 2 h', '- done: 2026-05-02, waxed, 1 h');
  expect(only(record).left).toEqual(['dry', 'plug']);
  expect(record.hours.works).toBe(0);
});

test('drains opened again answer drains to be opened', () => {
  expect(only(recordOf('- do: open the drain slots. 1 h', '- done: 2026-05-02, drains open again, 1 h')).left).toEqual([]);
});

test('where a line names no kind of work we know, its words tell which plan it belongs to', () => {
  expect(only(recordOf('- do: flush both tubes from below, pour again. 0.5 h', '- done: 2026-05-02, both tubes flushed, 1 h')).entries).toHaveLength(1);
  expect(recordOf('- do: flush both tubes from below. 0.5 h', '- done: 2026-05-02, both hinges oiled from below, 1 h').undertakings).toHaveLength(2);
});

test('other work in the zone has no estimate, and leaves the plan open', () => {
  const record = recordOf('- do: wax. 2 h', '- done: 2026-05-02, welded, 1 h');
  expect(record.undertakings.map((one) => [one.planned?.work.steps ?? null, one.entries.length])).toEqual([['wax', 0], [null, 1]]);
  expect(record.hours.works).toBe(0);
});

test('a plan written again is the same work, by its later estimate where it has one', () => {
  expect(only(recordOf('- do: wax. 2 h', '- do: wax. 4 h', '- done: 2026-10-01, waxed, 5 h')).planned?.work.hours?.likely).toBe(4);
  expect(only(recordOf('- do: wax. 2 h', '- do: wax', '- done: 2026-10-01, waxed, 5 h')).planned?.work.hours?.likely).toBe(2);
});

test('a line copied into the next visit counts once', () => {
  const line = '- do: wax. 2 h\n  - done: 2026-05-02, waxed, 3 h';
  expect(recordOf(line, line).undertakings.flatMap((one) => one.entries)).toHaveLength(1);
});

test('work done at a visit is planned by none of its lines: a defect that is left has no work written', () => {
  const [, second] = visits('- plug: missing\n- do: fit plugs. 1 h', '- plug, inner face 2: missing\n- done: 2026-05-02, plugs fitted');
  expect(second?.plan.estimate.unplanned).toEqual(['sill-left']);
  expect(second?.plan.steps.find((step) => step.zone === 'sill-left')?.suggested).toBe(true);
});

// Common practice, no source: heat burns wax off.
test('welding after the wax of an earlier visit is a warning at the later one, with both lines', () => {
  const all = visits('- do: mend\n  - done: 2026-03-02, waxed\n- again: 2027-10', '- done: 2026-05-04, welded');
  expect(rules(all)).toEqual(['warning wax-before-weld']);
  const notice = all.at(-1)?.plan.notices.find((one) => one.rule === 'wax-before-weld');
  expect(notice).toMatchObject({ spot: { file: 'visit-2/findings.md', line: 7 }, found: 'Wax on 2 March 2026 before welding on 4 May 2026 (Sill, left)' });
  expect(notice?.advice).toContain('visit-1/findings.md:8:');
  expect(rules(visits('- do: mend\n  - done: 2026-03-02, waxed\n- again: 2027-10', '- done: 2026-05-04, welded\n- done: 2026-05-06, waxed'))).toEqual([]);
});

test('of one visit it stays an error, with both lines; what concerns earlier visits alone is not said again', () => {
  const [notice] = visits('- done: 2026-05-02, waxed\n- done: 2026-05-09, welded\n- again: 2026-10')[0]?.plan.notices.filter((one) => one.rule === 'wax-before-weld') ?? [];
  expect(notice).toMatchObject({ level: 'error', spot: { line: 7 } });
  expect(notice?.advice).toContain('findings.md:8:');
  expect(rules(visits('- done: 2026-03-02, plugs fitted\n- done: 2026-03-09, waxed\n- again: 2027-10', '- plug: sound'))).toEqual([]);
});

test('wash after wax, plugs before wax, over two visits', () => {
  expect(rules(visits('- done: 2026-03-02, waxed\n- again: 2027-10', '- done: 2026-05-02, washed out'))).toEqual(['warning remedies-against']);
  expect(rules(visits('- done: 2026-03-02, plugs fitted\n- again: 2027-10', '- done: 2026-05-02, waxed'))).toEqual(['warning order-breach']);
});

test('a date to look again of an earlier visit, later than the work, will do', () => {
  expect(rules(visits('- again: 2026-10', '- done: 2026-05-02, waxed'))).toEqual([]);
  expect(rules(visits('- again: 2026-04', '- done: 2026-05-02, waxed'))).toEqual(['warning again-missing']);
});

test('dates to look again: looked at, due, open', () => {
  const states = (...lines: string[]): string[] => (visits(...lines).at(-1)?.plan.again ?? []).map((one) => `${one.due} ${one.state} ${one.lookedOn ?? '-'}`);
  expect(states('- again: 2026-05', '- plug: sound')).toEqual(['2026-05 looked 2026-05-09']);
  expect(states('- again: 2026-05-10', '- plug: sound')).toEqual(['2026-05-10 open -']);
  expect(states('- again: 2026-05-10', '- plug: sound', '- plug: sound')).toEqual(['2026-05-10 looked 2026-10-20']);
  // Nothing seen is no look, and neither is work done nor hearsay.
  expect(states('- again: 2026-05', '- not seen: all. no time')).toEqual(['2026-05 due -']);
  expect(states('- again: 2026-05', '- done: 2026-05-02, waxed')).toEqual(['2026-05 due -']);
  expect(states('- again: 2026-05', '- told, seller: "all sound"')).toEqual(['2026-05 due -']);
  expect(states('- again: 2026-12', '- again: 2026-12\n- again: after rain')).toEqual(['2026-12 open -', ' open -']);
});
