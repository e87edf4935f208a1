import { describe, expect, test } from 'vitest';
import type { Finding, Mark } from '../../src/model/notes.ts';
import type { Notice } from '../../src/model/notice.ts';
import { everyWordKept, notesOf } from './notes-helper.ts';

const under = (line: string): string => `# Sill, left\n\n![plug: missing](IMG_1.jpg)\n${line}\n`;

function read(line: string): { mark: Mark | undefined; notices: Notice[]; remark: string | undefined } {
  const { notes, notices } = notesOf(under(line));
  const [finding, other] = notes.zones[0]?.entries ?? [];
  return { mark: (finding as Finding).marks[0], notices, remark: other?.type === 'remark' ? other.words : undefined };
}

describe('marks that are read', () => {
  test.each([
    ['- ring 0.42 0.31 0.06: daylight', 'ring', [0.42, 0.31, 0.06], 'daylight'],
    ['- arrow 0.1 0.1 to 0.4 0.3: rust run', 'arrow', [0.1, 0.1, 0.4, 0.3], 'rust run'],
    ['- box 0.5 0.4 0.2 0.2', 'box', [0.5, 0.4, 0.2, 0.2], ''],
    ['- ring .5, .5, .1: bare points', 'ring', [0.5, 0.5, 0.1], 'bare points'],
    ['- Ring 0,42 0,31 0,06: a comma is decimal', 'ring', [0.42, 0.31, 0.06], 'a comma is decimal'],
    ['- arrow 0.1,0.2 to 0.3,0.4: commas between', 'arrow', [0.1, 0.2, 0.3, 0.4], 'commas between'],
    ['- box 0 0 1 1: all of it', 'box', [0, 0, 1, 1], 'all of it'],
  ])('%s', (line, shape, numbers, label) => {
    expect(read(line).mark).toMatchObject({ shape, numbers, label });
    expect(read(line).notices).toEqual([]);
  });

  test.each([
    ['50 mm', 50],
    ['steel rule, 5 cm', 50],
    ['0.5 m', 500],
    ['2 in', 50.8],
    ['1.5"', 38.1],
    ['12,5 mm', 12.5],
    ['1,250 mm', 1250],
  ])('a scale stands for the length behind it: %s', (label, lengthMm) => {
    expect(read(`- scale 0.2 0.9 to 0.5 0.9: ${label}`).mark).toMatchObject({ shape: 'scale', label, lengthMm });
  });
});

describe('marks that cannot be drawn say why, where, and stay as words', () => {
  test.each([
    ['- ring 1.5 0.5 0.1: out', 'mark-unclear'],
    ['- ring -0.1 0.5 0.1: out', 'mark-unclear'],
    ['- ring 0.5 0.5: two', 'mark-unclear'],
    ['- ring NaN 0.5 0.1: no number', 'mark-unclear'],
    ['- box 0.1 0.1 Infinity 0.2: no number', 'mark-unclear'],
    ['- box 0.1 0.1 0x1 0.2: no number', 'mark-unclear'],
    ['- arrow 0.1 0.1 to 0.4: three', 'mark-unclear'],
    ['- ring 0.5 0.5 0: nothing', 'mark-empty'],
    ['- arrow 0.5 0.5 to 0.5 0.5: nothing', 'mark-empty'],
    ['- box 0.1 0.1 0.1 0.4: nothing', 'mark-empty'],
    ['- box 0.1 0.4 0.3 0.4: nothing', 'mark-empty'],
    ['- scale 0.2 0.9 to 0.2 0.9: 50 mm', 'mark-empty'],
    ['- scale 0.2 0.9 to 0.5 0.9: 50', 'scale-unclear'],
    ['- scale 0.2 0.9 to 0.5 0.9', 'scale-unclear'],
    ['- scale 0.2 0.9 to 0.5 0.9: a hand', 'scale-unclear'],
    ['- scale 0.2 0.9 to 0.5 0.9: 0 mm', 'scale-unclear'],
    ['- scale 0.2 0.9 to 0.5 0.9: -50 mm', 'scale-unclear'],
    ['- scale 0.2 0.9 to 0.5 0.9: 1/2 in', 'scale-unclear'],
    ['- scale 0.2 0.9 to 0.5 0.9: 50 to 60 mm or 2 in', 'scale-unclear'],
    ['- scale 0.2 0.9 to 0.5 0.9: 50 km', 'scale-unclear'],
    ['- scale 0.2 0.9 to 0.5 0.9: 400 m', 'scale-unclear'],
  ])('%s', (line, rule) => {
    const { mark, notices, remark } = read(line);
    expect(mark).toBeUndefined();
    expect(notices).toEqual([expect.objectContaining({ level: 'warning', rule, spot: { file: 'findings.md', line: 4, column: 3 } })]);
    expect(remark).toBe(line.slice(2));
    expect(everyWordKept(under(line))).toEqual([]);
    expect(JSON.stringify(notices)).not.toMatch(/null|undefined/);
  });

  test('percent and pixels are told apart from a slip', () => {
    expect(read('- ring 42 31 6: hole').notices[0]?.advice).toContain('If they are percent, 42 % is 0.42.');
    expect(read('- box 420 300 800 610: hole').notices[0]?.advice).toContain('If they are pixels');
    expect(read('- ring 0.5 0.5: hole').notices[0]?.advice).not.toContain('If they are');
  });

  test.each(['- hide 0.7 0.8 0.7 0.9: plate', '- hide 0.7 0.8 0.9 0.8: plate', '- hide 0,7 0,8 0,9 0,9: plate', '- hide 0.7 0.8 0.9: plate'])('an area to hide that hides nothing stops the build: %s', (line) => {
    const { mark, notices } = read(line);
    expect(mark).toBeUndefined();
    expect(notices).toEqual([expect.objectContaining({ level: 'error', advice: expect.stringContaining('Nothing is published') })]);
  });

  test.each([
    ['- circle 0.2 0.5 0.05: open hole', 'ring'],
    ['- line 0.1 0.1 to 0.2 0.2: crack', 'arrow'],
    ['- rectangle 0.1 0.1 0.4 0.4: patch', 'box'],
    ['- ruler 0.1 0.9 to 0.4 0.9: 50 mm', 'scale'],
    ['- rng 0.2 0.5 0.05: open hole', 'ring'],
    ['- text 0.1 0.1: see here', null],
    ['- star 0.1 0.1 0.2', null],
  ])('another word for a mark is told the right one and stops nothing: %s', (line, meant) => {
    const { mark, notices, remark } = read(line);
    expect(mark).toBeUndefined();
    expect(notices).toEqual([expect.objectContaining({ level: 'warning', rule: 'mark-unclear', spot: { file: 'findings.md', line: 4, column: 3 } })]);
    if (meant === null) expect(notices[0]?.expected).toBe('one of ring, arrow, box, scale, hide, rusted points, rusted outline');
    else expect(notices[0]?.advice).toContain(`Did you mean "${meant}"?`);
    expect(remark).toBe(line.slice(2));
    expect(everyWordKept(under(line))).toEqual([]);
  });

  test.each(['hyde', 'hid', 'hidden', 'hids', 'ihde', 'Hides', 'blur', 'mask', 'cover', 'blank', 'redact'])('a word that may mean hide, with figures, stops the build: %s', (word) => {
    for (const figures of [' 0.7 0.8 0.9 0.9: plate', ' 0.7 0.8 0.9: plate', ': 0.7 0.8 0.9 0.9', ' 70 80 90 90: plate']) {
      expect(read(`- ${word}${figures}`).notices, figures).toEqual([expect.objectContaining({ level: 'error', rule: 'mark-unclear' })]);
    }
  });

  test('hide with a colon before its figures stops the build too', () => {
    expect(read('- hide: 0.7 0.8 0.9 0.9').notices.map(({ level }) => level)).toContain('error');
  });

  test.each(['- cover strip fitted', '- cover strip 0.5 1.5 mm thick', '- hidden behind 2 clips', '- steel 0.62 0.64 0.6', '- line of rust, 3 cm', '- plug 25: missing', '- mask 3 plugs', '- spot welds 12 of 30'])('words with figures that are no mark: %s', (line) => {
    expect(read(line).notices.map(({ rule }) => rule)).not.toContain('mark-unclear');
  });

  test('with no picture above it, a mark gets one notice and stays as typed', () => {
    for (const [line, level] of [['hide 0.1 0.1 0.2 0.2: plate', 'error'], ['ring 0.1 0.1 0.2: hole', 'warning'], ['rusted points 0 0 1 1: 3 of 100', 'warning']]) {
      const { notes, notices } = notesOf(`# Sill, left\n\n- ${line}\n`);
      expect(notices).toEqual([expect.objectContaining({ level, rule: 'mark-without-photo' })]);
      expect(notes.zones[0]?.entries).toMatchObject([{ type: 'remark', unread: true, text: line }]);
    }
  });

  test.each(['- ring around the hole', '- box section, inner face', '- scale flakes off', '- arrow on the panel'])('words that only begin like a mark are no mark: %s', (line) => {
    const { mark, notices } = read(line);
    expect(mark).toBeUndefined();
    expect(notices.map(({ rule }) => rule)).not.toContain('mark-unclear');
  });
});
