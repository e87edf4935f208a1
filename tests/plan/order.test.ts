import fc from 'fast-check';
import { expect, test } from 'vitest';
import { orderNotices, orderOfWork } from '../../src/plan/order.ts';
import { usualOrder } from '../../src/plan/suggest.ts';
import { catalogue, inspected, order, sill, zoneOf } from './order-helper.ts';

/** Dated entries under one work: "2026-05-02 waxed". */
function done(...entries: string[]): string {
  return ['- do: mend', ...entries.map((entry) => `  - done: ${entry.replace(' ', ', ')}`)].join('\n');
}

function rules(lines: string): string[] {
  return order(lines).map((notice) => `${notice.level} ${notice.rule}`);
}

test('wax before welding is an error until it is waxed again', () => {
  const [notice] = order(done('2026-05-02 waxed', '2026-05-09 welded'));
  expect(notice).toMatchObject({
    level: 'error', rule: 'wax-before-weld', spot: { file: 'findings.md', line: 7 },
    found: 'Wax on 2 May 2026 before welding on 9 May 2026 (Sill, left)', expected: 'wax after all welding',
  });
  expect(rules(done('2026-05-02 waxed', '2026-05-09 welded', '2026-05-12 waxed'))).toEqual([]);
  expect(rules(done('2026-05-02 waxed', '2026-05-09 brazed the edge'))).toEqual(['error wax-before-weld']);
});

test('any heat or sparks count as welding does, cutting with snips included in no other way', () => {
  const [notice] = order(done('2026-05-02 waxed', '2026-05-09 ground back'));
  expect(notice?.rule).toBe('wax-before-weld');
  expect(notice?.found).toBe('Wax on 2 May 2026 before heat or sparks ("cut out rust") on 9 May 2026 (Sill, left)');
  expect(rules(done('2026-05-02 waxed', '2026-05-09 cut out the perished grommet'))).toEqual([]);
});

test('a breach names both kinds, both dates, the zone and the damage', () => {
  const notices = order(done('2026-05-02 plugs fitted', '2026-05-09 waxed'));
  expect(notices).toHaveLength(1);
  expect(notices[0]).toMatchObject({
    level: 'warning', rule: 'order-breach', spot: { line: 7 },
    found: '"fit plugs and grommets" on 2 May 2026 before "wax" on 9 May 2026 (Sill, left)', expected: '"wax" first',
    advice: 'The lance needs the holes. Mend the date, or write when it was done again. The other line is findings.md:8:1.',
  });
});

test('the same day is no breach, nor is the usual order, nor what only one of the two was written for', () => {
  expect(rules(done('2026-05-02 plugs fitted', '2026-05-02 waxed', '2026-05-02 welded'))).toEqual([]);
  expect(rules(done('2026-05-02 washed out', '2026-05-03 dried', '2026-05-04 welded', '2026-05-05 primed', '2026-05-06 seam sealed', '2026-05-07 painted', '2026-05-08 waxed', '2026-05-09 drains open again', '2026-05-10 plugs fitted', '2026-05-11 refitted trim'))).toEqual([]);
  expect(rules(done('2026-05-02 plugs fitted'))).toEqual([]);
});

// Common practice, no source: heat harms whenever it comes, cleaning and drying need to have been done once.
test('heat counts by its last date, anything else by its first', () => {
  expect(rules(done('2026-05-01 welded', '2026-05-03 primed', '2026-05-05 welded'))).toEqual(['warning order-breach']);
  expect(rules(done('2026-05-01 dried', '2026-05-03 primed', '2026-05-05 dried'))).toEqual([]);
  expect(rules(done('2026-05-03 primed', '2026-05-05 dried'))).toEqual(['warning order-breach']);
  expect(rules(done('2026-05-03 primed', '2026-05-05 patched', '2026-05-06 primed'))).toEqual([]);
});

test('a patch welded in is one breach, not two', () => {
  expect(rules(done('2026-05-02 waxed', '2026-05-09 welded a patch'))).toEqual(['error wax-before-weld']);
  expect(rules(done('2026-05-02 primed', '2026-05-09 welded a patch'))).toEqual(['warning order-breach']);
  expect(rules(done('2026-05-02 waxed', '2026-05-09 patched'))).toEqual(['warning order-breach']);
});

test('zones have an order each of their own', () => {
  const two = inspected('# Sill, left\n- do: wax\n  - done: 2026-05-02, waxed\n- again: 2026-10\n# Sill, right\n- do: weld\n  - done: 2026-05-09, welded\n- again: 2026-10\n');
  expect(orderNotices(two).map((notice) => notice.rule)).toEqual(['drain-not-shown']);
});

// Where the later undoes the earlier, that is what is told.
test('every rule of the catalogue is a notice the wrong way round and none the right way', () => {
  for (const kind of catalogue.works) {
    for (const id of kind.after) {
      const before = catalogue.works.find((one) => one.id === id);
      const words = (one: typeof kind): string => (one.also[0] ?? one.name.gb).replaceAll('… ', '');
      const [later, earlier] = [words(kind), before ? words(before) : ''];
      const named = (lines: string): string[] => order(lines).filter((notice) => ['order-breach', 'wax-before-weld', 'remedies-against'].includes(notice.rule)).map((notice) => notice.rule);
      expect(named(done(`2026-05-02 ${later}`, `2026-05-09 ${earlier}`)), `${later} before ${earlier}`).toHaveLength(1);
      expect(named(done(`2026-05-02 ${earlier}`, `2026-05-09 ${later}`)), `${earlier} before ${later}`).toEqual([]);
    }
  }
});

test('a line to do that runs against the usual order gets a note with that order', () => {
  const [notice] = order('- do: prime, weld, clean');
  expect(notice).toMatchObject({ level: 'note', rule: 'order-unusual', spot: { line: 6 }, found: '"prime" before "weld" in one line (Sill, left)', expected: 'the usual order: clean, weld and prime' });
  expect(rules('- do: wax, weld, clean')).toContain('note order-unusual');
  expect(rules('- do: clean, weld, prime, wax')).toEqual([]);
  expect(rules('- do: prime, weld\n  - done: 2026-05-02, J. Arden')).toEqual([]);
});

test('remedies that undo each other are told, once a pair', () => {
  expect(order('- do: wax, wash out').map((notice) => notice.found)).toEqual(['"wax", then "clean" in one line (Sill, left)']);
  expect(order('- do: open the drain slots\n- do: seal the drain slots shut').map((notice) => [notice.rule, notice.spot?.line])).toEqual([['remedies-against', 7]]);
  expect(rules('- do: open the drains, then seal the drains shut')).toEqual(['warning remedies-against']);
  expect(rules('- do: fit 4 plugs\n- do: leave the plugs out')).toEqual(['warning remedies-against']);
  expect(order(done('2026-05-02 waxed', '2026-05-09 washed out')).map((notice) => notice.found)).toEqual(['"clean" on 9 May 2026 after "wax" on 2 May 2026 (Sill, left)']);
  expect(rules(done('2026-05-02 drains opened', '2026-05-09 undersealed'))).toEqual(['warning remedies-against']);
});

test('what is put right again, or planned to put an old wrong right, undoes nothing', () => {
  expect(rules('- do: leave the plugs out, dry, wax, fit 4 plugs')).toEqual([]);
  expect(rules(done('2026-05-02 waxed', '2026-05-09 washed out', '2026-05-12 waxed'))).toEqual([]);
  expect(rules(done('2026-05-02 drains opened', '2026-05-09 undersealed', '2026-05-10 drains open again'))).toEqual([]);
  expect(rules('- do: shut\n  - done: 1998-05-02, sealed the drain slots shut, drain sealed shut\n- do: open the drain slots')).toEqual([]);
  expect(rules('- do: wash out, dry\n- do: wax')).toEqual([]);
});

test('work before the car was built, and a look again before the visit, cannot be', () => {
  expect(rules(done('1970-12-31 welded'))).toEqual(['warning date-before-car']);
  expect(rules(done('1971-01-01 welded'))).toEqual([]);
  const again = (date: string): string[] => orderNotices(sill(`- again: ${date}`)).map((notice) => `${notice.rule} ${notice.spot?.line}`);
  expect(again('2026-02')).toEqual(['again-past 6']);
  expect(again('2026-03-13')).toEqual(['again-past 6']);
  for (const date of ['2026-03', '2026', '2026-03-14', '2026-10', 'never']) expect(again(date), date).toEqual([]);
});

test('the order of work keeps every kind once, and each behind what must come first', () => {
  const ids = catalogue.works.map((kind) => kind.id);
  expect(orderOfWork(catalogue, ['wax', 'weld', 'clean', 'unknown', 'weld'])).toEqual(['clean', 'weld', 'wax', 'unknown']);
  fc.assert(fc.property(fc.subarray(ids), fc.array(fc.integer()), (some, seeds) => {
    const mixed = some.map((id, at) => ({ id, seed: seeds[at] ?? at })).sort((a, b) => a.seed - b.seed).map(({ id }) => id);
    const ordered = orderOfWork(catalogue, mixed);
    expect(ordered.toSorted()).toEqual(some.toSorted());
    for (const kind of catalogue.works) for (const id of kind.after) if (ordered.includes(id) && ordered.includes(kind.id)) expect(ordered.indexOf(id)).toBeLessThan(ordered.indexOf(kind.id));
  }));
});

/** Ids of what is missing from the work of one zone. */
function missing(lines: string, zone = 'sill-left', heading = 'Sill, left'): string[] {
  const inspection = inspected(`# ${heading}\n${lines}\n`);
  return usualOrder(inspection, zoneOf(inspection, zone)).map(({ kind }) => kind.id);
}

test('welding asks for what comes before and after it', () => {
  expect(missing('- do: weld')).toEqual(['battery-off', 'strip', 'cool', 'prime', 'seal', 'wax']);
  expect(missing('- do: battery off, strip trim, weld, let cool, prime, seal the seams, wax, open the drains again')).toEqual([]);
});

test('fuel is asked about near fuel, a brace where structure is cut, drains where there are drains', () => {
  expect(missing('- do: weld', 'boot-floor', 'Boot floor')).toContain('fuel-out');
  expect(missing('- do: cut out')).toContain('brace');
  expect(missing('- do: cut out', 'boot-lid', 'Boot lid')).not.toContain('brace');
  expect(missing('- do: wax')).toEqual(['reopen-drain']);
  expect(missing('- do: wax', 'seat-pan', 'Seat pan')).toEqual([]);
});

test('drains opened behind the wax need not be opened twice, before it they do', () => {
  expect(missing('- do: wax, open the drain slots')).toEqual([]);
  expect(missing('- do: open the drain slots, wax')).toEqual(['reopen-drain']);
});

test('drying is asked for where what is washed is closed in, and nothing where the work is done or names no danger', () => {
  expect(missing('- do: wash out')).toEqual([]);
  expect(missing('- do: wash out, fit 4 plugs')).toEqual(['dry']);
  expect(missing('- do: weld\n  - done: 2026-05-02, welded')).toEqual([]);
  expect(missing('- do: take the trim off')).toEqual([]);
});

test('each suggestion says what damage it prevents', () => {
  const inspection = sill('- do: weld');
  const reasons = usualOrder(inspection, zoneOf(inspection));
  expect(reasons.find(({ kind }) => kind.id === 'wax')?.why).toBe('heat burns away what coating there was inside');
  expect(reasons.find(({ kind }) => kind.id === 'strip')?.why).toBe('pads, trim and looms on the far side catch fire out of sight');
});
