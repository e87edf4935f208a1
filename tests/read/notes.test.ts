import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Finding, NotSeen, Reading, Work } from '../../src/model/notes.ts';
import { settingsSchema } from '../../src/model/settings.ts';
import { readNotes } from '../../src/read/notes/index.ts';
import { catalogue, everyWordKept, findingLines, notesOf, rulesOf } from './notes-helper.ts';

const inZone = (lines: string): string => `# Sill, left\n\n${lines}\n`;

function first<T>(lines: string): T {
  return notesOf(inZone(lines)).notes.zones[0]?.entries[0] as T;
}

describe('findings', () => {
  test('part, place, conditions, details, words, evidence, photos', () => {
    const finding = first<Finding>('- plug 25 mm, inner face 1: cracked, loose, 40 x 60 mm. pressed, gives a little. IMG_4023');
    expect(finding).toMatchObject({
      type: 'finding',
      about: { part: 'plug', place: 'inner face 1', size: '25 mm' },
      conditions: ['cracked', 'loose'],
      details: ['40 x 60 mm'],
      words: 'pressed, gives a little',
      looked: { evidence: 'pressed', assumed: false },
      origin: { kind: 'fact' },
    });
    expect(finding.photos.map((photo) => photo.text)).toEqual(['IMG_4023']);
  });

  test('a range of places is one finding each', () => {
    const { notes } = notesOf(inZone('- plug, inner face 1-3: sound'));
    expect(notes.zones[0]?.entries.map((entry) => (entry as Finding).about.place)).toEqual(['inner face 1', 'inner face 2', 'inner face 3']);
  });

  test('a hard-wrapped line is one finding and its positions hold', () => {
    const { notes, notices } = notesOf(inZone('- plug, inner face 1: cracked,\n  blcoked. pressed\n  hard'));
    expect(notes.zones[0]?.entries).toHaveLength(1);
    expect((notes.zones[0]?.entries[0] as Finding).words).toBe('pressed hard');
    expect(notices.filter((notice) => notice.rule === 'condition-unknown')).toEqual([]);
  });

  test('British and American words', () => {
    const { notes, notices } = notesOf('# left rocker\n\n- blanking plug, inner face 1: missing\n');
    expect(notes.zones[0]?.zone).toBe('sill-left');
    expect((notes.zones[0]?.entries[0] as Finding).about.part).toBe('plug');
    expect(notices).toEqual([]);
  });

  test('an unknown condition points at its place and asks back', () => {
    const { notices } = notesOf(inZone('- drain slot, bottom: blcoked'));
    expect(notices[0]).toMatchObject({ rule: 'condition-unknown', spot: { file: 'findings.md', line: 3, column: 23 }, advice: 'Did you mean "blocked"?' });
  });

  test('not the words but their sense: "not pressed" is no evidence', () => {
    expect(first<Finding>('- plug: sound. not pressed').looked).toMatchObject({ evidence: 'direct' });
    expect(first<Finding>('- metal inside: scaling. seen through inner face 2').looked).toMatchObject({ evidence: 'camera', through: 'inner face 2' });
    expect(first<Finding>('- plug: missing. told by the seller').origin).toEqual({ kind: 'told', by: 'seller' });
  });

  test('the size of cable, the exposure, the new name', () => {
    const { notes } = notesOf(inZone('- grommet 19 mm, cable 8 mm, rear, wheel spray: loose\n  - was: grommet, front'));
    expect(notes.zones[0]?.entries[0]).toMatchObject({ about: { size: '19 mm', cable: 'cable 8 mm', place: 'rear', exposure: 'wheel spray' }, was: 'grommet, front' });
  });

  test('not seen and not fitted as conditions become what they mean', () => {
    expect(first<NotSeen>('- plug, inner face 4: not seen. carpet glued. to see it: heat, 0.5 h')).toMatchObject({
      type: 'not seen',
      about: { part: 'plug', place: 'inner face 4' },
      toSee: 'heat, 0.5 h',
      hours: { likely: 0.5 },
    });
    expect(first('- drain tube: not fitted')).toMatchObject({ type: 'not fitted', about: { part: 'drain-tube' } });
  });

  test('what reads like a finding without its bullet or colon gets a hint', () => {
    expect(rulesOf(inZone('plug, inner face 1: missing'))).toEqual(['bullet-missing']);
    expect(rulesOf(inZone('- plug missing at the front'))).toEqual(['finding-without-colon']);
    expect(rulesOf(inZone('- inside: rust'))).toEqual(['inside-ambiguous']);
  });
});

describe('what Markdown would take for something else', () => {
  test('a comment, a tag or a fence of code that is never closed hides no zone', () => {
    for (const opener of ['<!-- to do', '<script>', '<div>', '<?php', '```', '~~~ words']) {
      const { notes } = notesOf(`# Sill, left\n\n${opener}\n\n# Sill, right\n\n- plug, inner face 1: missing\n`);
      expect(notes.zones.map((zone) => [zone.zone, zone.entries.length]), opener).toEqual([['sill-left', 0], ['sill-right', 1]]);
    }
  });

  test('a fence that is closed is narrative, whatever stands in it', () => {
    const { notes } = notesOf('# Sill, left\n\n```\n# Sill, right\n```\n\n- plug: missing\n');
    expect(notes.zones.map((zone) => [zone.zone, zone.entries.length, zone.narrative.map((one) => one.text)])).toEqual([['sill-left', 1, ['```\n# Sill, right\n```']]]);
  });

  test('a year at the start of an item is no number of a list', () => {
    expect(first('- 1998. Sills replaced')).toMatchObject({ type: 'remark', words: '1998. Sills replaced' });
    expect(first('- 2. plug: missing')).toMatchObject({ type: 'finding', conditions: ['missing'] });
  });
});

describe('counting, measuring, working', () => {
  test('counts', () => {
    expect(first('- plugs: 4 expected, 1 sound, 1 cracked, 2 missing')).toMatchObject({
      type: 'count',
      part: 'plug',
      expected: 4,
      counts: [{ condition: 'sound', count: 1 }, { condition: 'cracked', count: 1 }, { condition: 'missing', count: 2 }],
    });
    expect(first('- plugs: 4 expected by the book, 1 sound, 3 odd. pressed')).toMatchObject({ expected: 4, counts: [{ condition: 'sound', count: 1 }], words: '4 expected by the book. 3 odd. pressed' });
    expect(first('- expected: 9 plugs')).toMatchObject({ type: 'count', part: 'plug', expected: 9 });
  });

  test('readings: decimal comma, inch, thou, one unit for a list', () => {
    expect(first<Reading>('- steel, outer face: 0,62 mm, 0,64 mm')).toMatchObject({ values: [0.62, 0.64], unit: 'mm', method: 'ultrasonic' });
    // 1 in = 25.4 mm exactly (international yard and pound agreement, 1959).
    expect(first<Reading>('- steel, outer face: 0.035 in. caliper').values).toEqual([0.889]);
    expect(first<Reading>('- film, outer face: 4 thou').values).toEqual([101.6]);
    expect(first<Reading>('- film, outer face: 480, 520, 1,250 um')).toMatchObject({ values: [480, 520, 1250], unit: 'um' });
  });

  test('readings that cannot be told are remarks with a notice', () => {
    expect(rulesOf(inZone('- steel, outer face: 0.62 mm, 640 um'))).toEqual(['units-mixed']);
    expect(rulesOf(inZone('- steel, outer face: 1,250 mm'))).toEqual(['reading-unclear']);
    expect(rulesOf(inZone('- steel, outer face: -0.6 mm'))).toEqual(['reading-unclear']);
    expect(first('- steel, outer face: 1,250 mm')).toMatchObject({ type: 'remark' });
    expect(rulesOf(inZone('- film, outer face: thin'))).toEqual(['reading-unclear']);
    expect(first('- steel, outer face: thin')).toMatchObject({ type: 'finding', about: { part: 'metal', place: 'outer face' }, conditions: ['thin'] });
  });

  test('work with hours, parts, prices, what was done', () => {
    const work = first<Work>('- do: wash out, dry, wax. 2/2.5/4 h\n  - part: grommet hole 19 mm, cable 8 mm x 3, 2.40 each\n  - done: 2026-05-02, waxed, J. Arden, 1.5 h');
    expect(work).toMatchObject({ steps: 'wash out, dry, wax', hours: { low: 2, likely: 2.5, high: 4, judged: false } });
    expect(work.parts[0]).toMatchObject({ name: 'grommet hole 19 mm, cable 8 mm', count: 3, price: { minor: 240, currency: 'EUR' } });
    expect(work.done[0]).toMatchObject({ date: '2026-05-02', details: ['waxed', 'J. Arden', '1.5 h'] });
  });

  test('a price without any currency is unpriced and said so', () => {
    const { notes, notices } = notesOf(inZone('- do: plug. 1 h\n  - part: plug 25 mm x 4, 1.90 each'), { currency: null });
    expect((notes.zones[0]?.entries[0] as Work).parts[0]?.price).toMatchObject({ currency: null });
    expect(notices.map((notice) => notice.rule)).toEqual(['price-without-currency']);
  });

  test('hours that run backwards, a part without work, a date that is none', () => {
    expect(rulesOf(inZone('- do: wax. 3-2 h'))).toEqual(['hours-reversed']);
    expect(rulesOf(inZone('- part: plug 25 mm'))).toEqual(['work-missing']);
    expect(rulesOf(inZone('- do: wax. 1 h\n  - done: soon'))).toEqual(['date-unclear']);
    expect(rulesOf(inZone('- again: 2026-13'))).toEqual(['date-unclear']);
  });
});

describe('headings, pictures, marks', () => {
  test('zones, times, sides', () => {
    expect(notesOf('# Sill, left (10:12)\n').notes.zones[0]).toMatchObject({ zone: 'sill-left', from: '10:12' });
    expect(notesOf('#Sill left\n').notes.zones[0]?.zone).toBe('sill-left');
    expect(rulesOf('# Sill\n')).toEqual(['side-missing']);
    expect(rulesOf('# Sil, left\n')).toEqual(['zone-unknown']);
    expect(notesOf('# Sil, left\n').notices[0]?.advice).toContain('"sill"');
    expect(rulesOf('# Nearside sill\n')).toEqual(['zone-unknown']);
  });

  test('words of a picture are a finding, no words only place it', () => {
    expect(first<Finding>('![plug, inner face 2: missing. rust run](my photo.jpg)')).toMatchObject({ type: 'finding', conditions: ['missing'], photos: [{ text: 'my photo.jpg' }] });
    expect(first('![](IMG_1.jpg)')).toMatchObject({ type: 'photo', photos: [{ text: 'IMG_1.jpg' }] });
  });

  test('marks go to the picture above; a hidden area that cannot be read is an error', () => {
    const { notes } = notesOf(inZone('![plug: missing](IMG_1.jpg)\n- ring 0.4 0.3 0.1: daylight\n- hide 0.7 0.8 0.9 0.9: plate'));
    expect((notes.zones[0]?.entries[0] as Finding).marks.map((mark) => mark.shape)).toEqual(['ring', 'hide']);
    expect(notesOf(inZone('![plug: missing](IMG_1.jpg)\n- hide 70 80 90 90: plate')).notices[0]).toMatchObject({ level: 'error', rule: 'mark-unclear' });
  });

  test('car, visit, clock, views', () => {
    const { notes, notices } = notesOf('# Car\n- built: 1971\n# Visit\n- seen: 2026-03-14 9:05-11:45, Europe/Dublin\n- clock: scope +1:13:20\n- view front: IMG_4001\n');
    expect(notices).toEqual([]);
    expect(notes.seen).toMatchObject({ date: '2026-03-14', from: '09:05', to: '11:45', timeZone: 'Europe/Dublin' });
    expect(notes.clocks[0]).toMatchObject({ camera: 'scope', aheadSeconds: 4400 });
    expect(notes.views[0]).toMatchObject({ view: 'front', photo: { text: 'IMG_4001' } });
    expect(rulesOf('# Visit\n- seen: 14/3/26\n- clock: scope fast\n- view nowhere: IMG_1\n')).toEqual(['seen-unclear', 'clock-unclear', 'view-unknown']);
  });
});

test('the examples of every condition come to what their record says', () => {
  for (const condition of catalogue.conditions) {
    for (const example of condition.examples) {
      const { notes, notices } = notesOf(inZone(`- ${example.text}`));
      const entry = notes.zones[0]?.entries[0];
      expect(notices.map((notice) => notice.found), `${condition.id}: ${example.text}`).toEqual([]);
      expect(entry?.type, `${condition.id}: ${example.text}`).toBe('finding');
      expect((entry as Finding).conditions, `${condition.id}: ${example.text}`).toContain(condition.id);
    }
  }
});

describe('slips of the thumb', () => {
  test('an area to hide that cannot be read is always an error', () => {
    for (const line of ['- hide face', '- hide', '- hde 0.1 0.1 0.2 0.2: face', '- Hide 0.1 0.2: face', '- hide 0,1 0,2 0,3 0,4: face']) {
      expect(notesOf(inZone(`![plug: missing](IMG_1.jpg)\n${line}`)).notices.map(({ level, rule }) => `${level} ${rule}`), line).toContain('error mark-unclear');
    }
    expect(rulesOf(inZone('- hidden behind trim'))).toEqual(['remark-kept']);
  });

  test('bare "rust" is asked back, never taken for worse or better', () => {
    const { notices } = notesOf(inZone('- metal: rust'));
    expect(notices[0]).toMatchObject({ rule: 'condition-unknown', advice: 'Say which: surface rust, scaling, pitted, thin or holed.' });
  });

  test('lines without bullets: below an item a new finding, else a hint', () => {
    const { notes } = notesOf(inZone('- film, roof: 120 um\nplug, inner face 2: missing\nplug, inner face 3: sound'));
    expect(notes.zones[0]?.entries.map((entry) => entry.type)).toEqual(['reading', 'finding', 'finding']);
    expect(rulesOf(inZone('plug inner face 1 missing IMG_0308'))).toEqual(['bullet-missing']);
    expect(rulesOf(inZone('- rust on front edge'))).toEqual(['remark-kept']);
  });

  test('an extent behind a condition, two words that exclude each other, a plural without a number', () => {
    expect(first<Finding>('- coating inside: wax good 60 %')).toMatchObject({ conditions: ['wax-good'], details: ['wax good 60 %'] });
    expect(rulesOf(inZone('- coating inside: wax good 60 %'))).toEqual([]);
    expect(rulesOf(inZone('- plug, inner face 1: missing, not seen'))).toEqual(['condition-contradicts']);
    expect(rulesOf(inZone('- plugs: all sound'))).toEqual(['count-missing']);
  });

  test('doubt, and what was not looked at, are not states', () => {
    expect(first<Finding>('- plug, inner face 1: sound?')).toMatchObject({ conditions: [], details: ['sound?'] });
    expect(rulesOf(inZone('- plug, inner face 1: sound?'))).toEqual(['condition-doubted']);
    expect(first('- plug, inner face 1: not checked')).toMatchObject({ type: 'not seen', about: { part: 'plug' } });
    expect(first<Finding>('- metal, well: holed 20x30mm')).toMatchObject({ conditions: ['holed'] });
    expect(first<Finding>('- plug: cracked and loose')).toMatchObject({ conditions: ['cracked', 'loose'], details: [] });
  });

  test('hours in minutes, prices as ranges and behind "at", photos by themselves, keywords without a colon', () => {
    expect(first<Work>('- do: wax. 90 min')).toMatchObject({ hours: { likely: 1.5, judged: true } });
    expect(first<Work>('- do: wax. 1 h, £20-30')).toMatchObject({ cost: { currency: 'GBP', text: '£20-30' } });
    expect(first<Work>('- do: wax. 1 h\n  - part: wax x 2 at £3').parts[0]).toMatchObject({ name: 'wax', count: 2, price: { minor: 300, currency: 'GBP' } });
    expect(first('- IMG_3578-3579')).toMatchObject({ type: 'photo', photos: [{ text: 'IMG_3578-3579' }] });
    expect(rulesOf(inZone('- IMG_3578-3579'))).toEqual([]);
    expect(rulesOf(inZone('- not seen - carpet glued'))).toEqual(['finding-without-colon']);
    expect(rulesOf(inZone('- not seen: heater side'))).toEqual(['reason-missing']);
  });

  test('a dollar sign is no currency of its own, euros in words are', () => {
    const price = (text: string, currency: string | null): unknown => (notesOf(inZone(`- do: plug. 1 h, ${text}`), { currency }).notes.zones[0]?.entries[0] as Work).cost?.currency;
    expect(price('$1.90', 'EUR')).toBeNull();
    expect(price('$1.90', 'CAD')).toBe('CAD');
    expect(price('280 euros', null)).toBe('EUR');
    expect(price('€5', 'USD')).toBe('EUR');
  });

  test('a photo named with spaces in free words', () => {
    const { notes } = readNotes({ file: 'findings.md', text: inZone('- plug: missing. rocker rh 3.jpg'), catalogue, settings: settingsSchema.parse({}), photoNames: ['rocker rh 3.jpg'] });
    expect(notes.zones[0]?.entries[0]?.photos.map((photo) => photo.text)).toEqual(['rocker rh 3.jpg']);
  });
});

describe('nothing is lost', () => {
  test('the sample', () => {
    const text = readFileSync('sample-job/2026-03-14/findings.md', 'utf8');
    expect(everyWordKept(text)).toEqual([]);
  });

  test('any mix of lines', () => {
    fc.assert(
      fc.property(fc.array(findingLines, { maxLength: 20 }), fc.constantFrom('\n', '\r\n', '\r'), (some, end) => {
        expect(everyWordKept(some.join(end))).toEqual([]);
      }),
      { numRuns: 1500 },
    );
  });

  test('any text at all', () => {
    fc.assert(
      fc.property(fc.array(fc.oneof(fc.string({ unit: 'grapheme' }), findingLines), { maxLength: 12 }), (some) => {
        expect(everyWordKept(some.join('\n'))).toEqual([]);
      }),
      { numRuns: 1000 },
    );
  });
});
