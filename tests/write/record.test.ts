import fc from 'fast-check';
import { expect, test } from 'vitest';
import { dossierSchema } from '../../src/model/dossier.ts';
import { recordCsv } from '../../src/print/data/record-csv.ts';
import { editionIds } from '../../src/read/editions.ts';
import { dateText } from '../../src/units.ts';
import { dossierOf, wordsOf } from './builders.ts';
import { dossierOfVisits, sectionText, visitsOf } from './visits-helper.ts';

const head = (day: string): string => `# Visit\n- seen: ${day} 10:00-11:00\n# Rates\n- labour: 52\n- tax: 23 % per invoice, half up\n`;
const first = `# Car\n- car: Test 1300\n- built: 1971\n${head('2026-03-14')}# Sill, left
- plug, inner face 1: missing
- do: wash out, dry, wax, fit 4 plugs. 2-3 h
- again: 2026-04
- kept: film canister in the tin
# Boot floor
- do: treat, paint the well. 2 h, 35
- again: 2027-01
# Scuttle
- do: flush both tubes. 0.5 h`;
const second = `${head('2026-05-09')}# Sill, left
- plug, inner face 1: sound
- done: 2026-05-02, washed out and dried, R. Hollis, 1 h
- done: 2026-05-04, waxed with cavity wax, batch 4411, R. Hollis and M. Cole, 2 h, invoice 2026/118, conserved, reversible
- done: 2026-05-05, 4 plugs fitted, M. Cole, 0.5 h, old plug kept, bag in the boot
  - material: plug grease, batch 7
# Boot floor
- done: 2026-05-06, rust treated, M. Cole, invoice 2026/118`;

test('the ledger of two visits: every line by date, beside what was planned, with totals', () => {
  const text = sectionText(dossierOfVisits([first, second]), 'ledger');
  expect(text).toContain('Made from 2 visits: 14 March 2026 and 9 May 2026.');
  expect(text).not.toContain('made from one visit');
  expect(text).toContain('4 May 2026 | Sill, left | waxed with cavity wax; conserved; reversible | R. Hollis and M. Cole; 2 h | cavity wax, batch 4411 | EUR 104.00 by the rate; invoice 2026/118');
  // By hand: 1 + 2 + 0.5 = 3.5 h; at EUR 52 that is EUR 182, and EUR 223.86 with 23 %. The estimate of 2 to 3 h is EUR 104 to 156.
  expect(text).toContain('took 3.5 h, estimated 2 to 3 h | EUR 182.00, estimated EUR 104 to 156');
  expect(text).toContain('Labour of everything written as done: EUR 182.00, without tax; EUR 223.86 with tax at 23 %; one line carries no price and is not in it.');
  expect(text).toContain('hours not written, estimated 2 h (1.6 to 2.8) | unpriced: no hours written, estimated EUR 35.00 |  | paint');
  expect(text).toContain('Scuttle | flush both tubes | 14 March 2026 | 0.5 h (0.4 to 0.7)');
  expect(text).toContain('R. Hollis | 1 h and 2 h together with others | 2 lines');
  expect(text).toContain('plug grease | 7 | Sill, left (5 May 2026)');
  expect(text).toContain('Sill, left | old plug, bag in the boot | 5 May 2026');
  expect(text).toContain('Sill, left | film canister in the tin | 14 March 2026');
  expect(text).toMatch(/2026\/118 \| Sill, left: waxed .* \(4 May 2026\); Boot floor: rust treated \(6 May 2026\)/);
});

test('one visit says that it is one, and without work done there is nothing to compare', () => {
  const text = sectionText(dossierOfVisits([first]), 'ledger');
  expect(text).toContain('This dossier is made from one visit, on 14 March 2026.');
  expect(text).toContain('No work is written as done.');
  expect(text).not.toMatch(/estimate|Planned/);
});

test('an estimate of hours alone is no total of hours, and nothing unpriced reads as nought', () => {
  const text = sectionText(dossierOfVisits([first, `${head('2026-05-09')}# Scuttle\n- done: 2026-05-02, tubes flushed`]), 'ledger');
  expect(text).toContain('hours not written');
  expect(text).toContain('Labour of everything written as done: none of it is priced, which does not mean that it was free.');
  expect(text).not.toMatch(/Hours in all|EUR 0|NaN/);
});

test('dates to look again say what became of them, and name the calendar', () => {
  const text = sectionText(dossierOfVisits([first, second]), 'again');
  expect(text).toContain('Sill, left | April 2026 | looked at on 9 May 2026 | 14 March 2026');
  expect(text).toContain('Boot floor | January 2027 | open | 14 March 2026');
  expect(text).toContain('look-again.ics');
  expect(sectionText(dossierOfVisits([first.replace('# Boot floor', '# Roof'), second]), 'again')).toContain('Roof | January 2027 | open');
});

test('a view of an earlier visit is named with its day, and does not count', () => {
  const visits = visitsOf([first, second]);
  const [before, current] = visits;
  if (!before || !current) throw new Error('two visits');
  for (const view of before.inspection.views.slice(0, 1)) view.photo = 'img-1';
  const text = sectionText(dossierOf(current, 'evidence', null, { earlier: [before] }), 'views');
  expect(text).toContain(`a photo for 0 of ${current.inspection.views.length} views`);
  expect(text).toMatch(/\| no photo at this visit; one of 14 March 2026, which is not counted\n/);
});

test('the data holds the same, and an issue made before there was a record can be read', () => {
  const dossier = dossierOfVisits([first, second]);
  const parsed = dossierSchema.parse(JSON.parse(JSON.stringify(dossier)));
  expect(parsed.record?.done.map((one) => [one.date, one.zone, one.hours?.likely ?? null])).toEqual([['2026-05-02', 'sill-left', 1], ['2026-05-04', 'sill-left', 2], ['2026-05-05', 'sill-left', 0.5], ['2026-05-06', 'boot-floor', null]]);
  expect(parsed.record?.done[3]).toMatchObject({ labour: { sums: [], unpriced: 1 }, reason: 'no hours written' });
  expect(parsed.record?.works.map((one) => [one.work, one.lines, one.left])).toEqual([['flush both tubes', 0, []], ['wash out, dry, wax, fit 4 plugs', 3, []], ['treat, paint the well', 1, ['paint']]]);
  expect(parsed.again?.map((one) => `${one.zone} ${one.state}`)).toEqual(['sill-left looked', 'boot-floor open']);
  const { record: _record, again: _again, ...old } = dossier;
  expect(dossierSchema.safeParse(old).success).toBe(true);
  expect(dossierOfVisits([first, second], 'purchase').record).toBeUndefined();
  const [columns = '', , row = ''] = recordCsv(dossier, dossier.record).split('\r\n');
  expect(columns).toContain('date,zone,what was done,kind of treatment,reversible,hands');
  expect(row).toBe('2026-05-04,"Sill, left",waxed with cavity wax,conserved,reversible,R. Hollis; M. Cole,2,2,2,cavity wax,4411,2026/118,EUR,104.00,104.00,104.00,,,visit-1/findings.md:11:1,visit-2/findings.md:9:1');
});

const pieces = fc.array(fc.constantFrom('waxed', 'zebra', 'J. Arden', 'Ada Quagga', 'batch 4411', 'émeu', 'invoice 2026/1', 'old gnu kept', 'in a 狐', 'preserved', 'reversible', '2 h', 'EUR 30', '3-2 h', 'IMG_9', 'by hand', ''), { minLength: 1, maxLength: 6 });
const lines = fc.array(fc.tuple(fc.constantFrom('- do: ', '- done: 2026-05-02, ', '  - done: ', '  - hands: ', '  - material: ', '  - invoice: ', '  - kept: ', '  - kind: ', '  - reversible: ', '- kind: ', '- plug: ', '  - part: ', '- again: '), pieces).map(([key, all]) => `${key}${all.join(', ')}`), { minLength: 1, maxLength: 8 });

test('every word of a record stands in every edition', () => {
  const words = (text: string): string[] => text.normalize('NFC').replace(/\b\d{4}-\d{2}(-\d{2})?\b/g, dateText).toLowerCase().match(/[\p{L}\p{M}\p{N}]+/gu) ?? [];
  const keys = new Set(['do', 'done', 'part', 'kept', 'invoice', 'again', 'sill', 'left', 'x', 'each']);
  fc.assert(fc.property(lines, (typed) => {
    const [judged] = visitsOf([`${head('2026-03-14')}# Sill, left\n${typed.join('\n')}`]);
    if (!judged) return;
    for (const edition of editionIds()) {
      const printed = new Set(words(wordsOf(dossierOf(judged, edition))));
      expect(words(typed.join('\n')).filter((word) => !printed.has(word) && !keys.has(word))).toEqual([]);
    }
  }), { numRuns: 60 });
});
