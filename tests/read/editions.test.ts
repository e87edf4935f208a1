import { expect, test } from 'vitest';
import { editionIds, parseEdition, readEdition } from '../../src/read/editions.ts';
import { requiredSections } from '../../src/model/edition.ts';

const sound = `# Mine\n\n- reader: me\n\n## Opening\n\nHello.\n\n- a list\n\n## Limits\n\nNone.\n\n## Sections\n\n${requiredSections.map((id) => `- ${id}`).join('\n')}\n- views, on index\n`;

test('the four editions of the house are sound', () => {
  expect(editionIds()).toEqual(['evidence', 'history', 'progress', 'purchase']);
  for (const id of editionIds()) {
    const edition = readEdition(id);
    expect(edition.notices).toEqual([]);
    expect(edition.reader).not.toBe('');
    expect(edition.opening).not.toBe('');
  }
});

test('title, reader, words and sections are read, with another page where asked', () => {
  const edition = parseEdition('mine', sound.replaceAll('\n', '\r\n'), 'mine.md');
  expect(edition).toMatchObject({ id: 'mine', title: 'Mine', reader: 'me', opening: 'Hello.\n\n- a list', limits: 'None.', notices: [] });
  expect(edition.sections.at(-1)).toEqual({ id: 'views', page: 'index' });
});

test('a section nobody knows is an error with file and line', () => {
  const edition = parseEdition('mine', `${sound}- prices\n`, 'mine.md');
  const line = sound.split('\n').length;
  expect(edition.notices.map((notice) => [notice.level, notice.rule, notice.spot])).toEqual([['error', 'edition-section-unknown', { file: 'mine.md', line }]]);
});

test('a section twice, a required one left out, a stray line and a missing title are errors', () => {
  expect(parseEdition('mine', `${sound}- views\n`, 'mine.md').notices.map((notice) => notice.rule)).toEqual(['edition-section-twice']);
  expect(parseEdition('mine', sound.replace('- not-seen\n', ''), 'mine.md').notices.map((notice) => notice.rule)).toEqual(['edition-section-missing']);
  expect(parseEdition('mine', sound.replace('- reader: me', '- reader: me\nstray'), 'mine.md').notices.map((notice) => notice.rule)).toEqual(['edition-line-unknown']);
  expect(parseEdition('mine', sound.replace('# Mine', ''), 'mine.md').notices.map((notice) => notice.rule)).toEqual(['edition-title-missing']);
});

test('an edition that does not exist is an error, never a path outside', () => {
  expect(readEdition('nobody').notices.map((notice) => notice.rule)).toEqual(['edition-missing']);
  expect(readEdition('../README').notices.map((notice) => notice.rule)).toEqual(['edition-missing']);
});
