import { readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { expect, test } from 'vitest';
import { inspect } from '../src/job.ts';
import type { Notice } from '../src/model/notice.ts';
import { todoRules } from '../src/place/checks/index.ts';

/**
 * Small jobs named `<rule>--<case>`. `expected.txt` lists the notices, one a line: place, level, rule; or `*rule` for one
 * of that rule wherever it points. What is still to do at the car is compared only where the fixture is about it. A
 * surplus notice fails like a missing one.
 */
const folder = path.join('tests', 'fixtures');

/** Wording and times of fixtures' photos are not what they are about: their pictures are made here and carry no time. */
const byTheWay = ['time-missing'];

function line(notice: Notice): string {
  const at = notice.spot ? [notice.spot.file, notice.spot.line, notice.spot.column].filter((part) => part !== undefined).join(':') : '-';
  return `${at} ${notice.level} ${notice.rule}`;
}

for (const name of readdirSync(folder).toSorted()) {
  test(name, async () => {
    const job = path.join(folder, name);
    const expected = readFileSync(path.join(job, 'expected.txt'), 'utf8').split('\n').filter((one) => one !== '');
    const about = expected.map((one) => one.split(' ').at(-1)?.replace('*', ''));
    const inspected = await inspect(job, { clock: { today: '2026-06-01' } });
    const notices = inspected?.notices.filter((notice) => !byTheWay.includes(notice.rule) && (about.includes(notice.rule) || !todoRules.includes(notice.rule))) ?? [];
    const found = notices.map((notice) => (expected.includes(`*${notice.rule}`) ? `*${notice.rule}` : line(notice)));
    expect([...new Set(found)].toSorted()).toEqual(expected.toSorted());
    for (const notice of notices) expect(notice.found, line(notice)).not.toMatch(/undefined|NaN|\[object/);
    const rule = name.split('--')[0] ?? '';
    if (rule !== 'none') expect(about).toContain(rule);
  });
}
