import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterEach, expect, test } from 'vitest';
import { readCatalogue } from '../../src/read/catalogue/index.ts';
import { readRecord } from '../../src/read/catalogue/records.ts';

const content = fileURLToPath(new URL('../../content', import.meta.url));

test('a record is read with lines, continuation and items under items', () => {
  const record = readRecord('# Sill / Rocker\n\n- also: rocker,\n  side sill\n\n## Cavities\n- outer: outer cell\n  - sheet: 0.9 mm\n', 'content/zones/sill.md');
  expect(record).toMatchObject({ id: 'sill', name: { gb: 'Sill', us: 'Rocker' }, items: [{ text: 'also: rocker, side sill', line: 3 }] });
  expect(record.sections.get('cavities')).toEqual({
    line: 6,
    items: [{ text: 'outer: outer cell', line: 7, children: [{ text: 'sheet: 0.9 mm', line: 8, children: [] }] }],
  });
});

const folders: string[] = [];
afterEach(() => {
  for (const folder of folders.splice(0)) rmSync(folder, { recursive: true });
});

/** Content with one text replaced in one file; what reading it throws. */
function spoiled(file: string, from: string, to: string): string {
  const folder = mkdtempSync(join(tmpdir(), 'sillbook-content-'));
  folders.push(folder);
  cpSync(content, folder, { recursive: true });
  const text = readFileSync(join(folder, file), 'utf8');
  expect(text).toContain(from);
  writeFileSync(join(folder, file), text.replace(from, to));
  try {
    readCatalogue(folder);
  } catch (error) {
    return String(error);
  }
  return 'nothing thrown';
}

test.each([
  ['a name is missing', 'views/front.md', '# front', '', 'content/views/front.md:3 stands before the name'],
  ['a key is misspelt', 'conditions/missing.md', '- badness:', '- badnes:', 'content/conditions/missing.md:6 has an unknown key "badnes"'],
  ['a number is none', 'conditions/missing.md', 'badness: 90', 'badness: much', 'content/conditions/missing.md:6 has "badness: much"'],
  ['a value is outside the list', 'conditions/missing.md', 'outcome: defect', 'outcome: bad', 'content/conditions/missing.md:5 has a wrong or missing outcome'],
  ['a caution is unknown', 'zones/sill.md', 'cautions: lifting, welding', 'cautions: lifting, wielding', 'content/zones/sill.md:11 names an unknown caution "wielding"'],
  ['a cavity is unknown', 'zones/sill.md', 'indoors -> inner-cell', 'indoors -> inner-sell', 'content/zones/sill.md:23 names an unknown cavity "inner-sell"'],
  ['a kind of opening is unknown', 'zones/sill.md', '- plug, inner', '- plugg, inner', 'content/zones/sill.md:23 names an unknown kind of opening "plugg"'],
  ['an exposure is unknown', 'zones/sill.md', 'face: indoors', 'face: in the rain', 'content/zones/sill.md:21 has a wrong or missing openings.0.exposure'],
  ['a unit is missing', 'zones/sill.md', 'sheet: 0.9 mm', 'sheet: 0.9', 'content/zones/sill.md:36 has "sheet: 0.9"'],
  ['hours do not rise', 'zones/sill.md', '8 / 14 / 24', '8 / 4 / 24', 'content/zones/sill.md:39 gives hours of "outer cell" that do not rise'],
  ['a body is unknown', 'zones/roof.md', 'all but convertible', 'all but cabrio', 'content/zones/roof.md:7 names an unknown body "cabrio"'],
  ['a spelling is claimed twice', 'zones/floor.md', '- also: floors', '- also: rocker', 'content/zones/floor.md:3 claims the spelling "rocker" that sill has already'],
  ['a word is claimed twice in one group', 'conditions/loose.md', 'slack', 'absent', 'content/conditions/missing.md:4 claims the spelling "absent" for the group "plug" that loose has already'],
  ['a group is unknown', 'conditions/loose.md', 'for: plug, seal', 'for: plug, seel', 'content/conditions/loose.md:3 names an unknown group "seel"'],
  ['an order is given twice', 'views/back.md', 'order: 2', 'order: 1', 'content/views/front.md:3 has the same order 1 as back'],
  ['the source is missing', 'parts/vent.md', '- source: common practice, no source\n', '', 'content/parts/vent.md:1 has a wrong or missing source'],
  ['a kind of work is unknown', 'works/cool.md', 'after: weld', 'after: wield', 'content/works/cool.md:8 names an unknown kind of work "wield"'],
  ['kinds of work come after each other', 'works/wax.md', 'after: clean', 'after: reopen-drain, clean', 'content/works/reopen-drain.md:11 has to come after "wax", which has to come after it: wax after reopen-drain after wax'],
  ['a kind of work comes after itself', 'works/wipe.md', 'after: wax', 'after: wipe', 'content/works/wipe.md:7 names itself, "wipe"'],
  ['two kinds of work claim a word', 'works/cool.md', 'cooled,', 'waxed,', 'content/works/wax.md:3 claims the spelling "waxed" that cool has already'],
  ['a word for a whole step is claimed twice', 'works/label.md', 'alone: bag', 'alone: plug', 'content/works/plug.md'],
  ['the order of work is given twice', 'works/wipe.md', 'order: 230', 'order: 220', 'content/works/wipe.md:4 has the same order 220 as wax'],
  ['a labour is unknown', 'works/wax.md', 'labour: wax', 'labour: waxing', 'content/works/wax.md:6 has a wrong or missing labour'],
  ['an effect is unknown', 'works/wax.md', 'effect: protects', 'effect: heals', 'content/works/wax.md:7 has a wrong or missing effect'],
  ['a gap ends a spelling', 'works/wax.md', 'waxed,', 'waxed …,', 'content/works/wax.md:3 has the spelling "waxed …"; expected "…" between two words'],
  ['a reason is for nothing', 'works/plug.md', '- wax: the lance', '- wipe: the lance', 'gives a reason for "wipe", which no list of it names'],
  ['an order has no reason', 'works/wipe.md', '- why: what drips afterwards runs over trim and into drains\n', '', 'content/works/wipe.md:7 gives no reason for "wax"'],
])('where %s, the message names file and line', (_, file, from, to, message) => {
  expect(spoiled(file, from, to)).toContain(message);
});
