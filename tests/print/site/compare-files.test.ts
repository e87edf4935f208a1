import { describe, expect, test } from 'vitest';
import { hashList, hashText } from '../../../src/seal/index.ts';
import { compareFiles, isHidden, listText, readPasted, type Kind } from '../../../templates/site/frame/compare-files.ts';

const hashes = (['one', 'two', 'three', 'four'] as const).map(hashText);
const [one = '', two = '', three = '', four = ''] = hashes;
const listed = [
  { path: 'findings.md', sha256: one },
  { path: 'photos/a/IMG_1.jpg', sha256: two },
  { path: 'photos/b/IMG_1.jpg', sha256: three },
];
const list = hashText('the list');

function kinds(given: readonly [path: string, sha256: string][]): [Kind, string, string][] {
  return compareFiles(listed, given.map(([path, sha256]) => ({ path, sha256 })), list).map(({ kind, name, other }) => [kind, name, other]);
}

describe('comparing', () => {
  test('files of one folder, of the job, or of another folder are the same files', () => {
    const all: [Kind, string, string][] = [['unchanged', 'findings.md', ''], ['unchanged', 'photos/a/IMG_1.jpg', ''], ['unchanged', 'photos/b/IMG_1.jpg', '']];
    expect(kinds([['findings.md', one], ['IMG_1.jpg', three], ['IMG_1.jpg', two]])).toEqual(all);
    expect(kinds([['job/photos/b/IMG_1.jpg', three], ['job/photos/a/IMG_1.jpg', two], ['job/findings.md', one]])).toEqual(all);
  });

  test('of two with one name the changed one is the one in its folder', () => {
    expect(kinds([['job/findings.md', one], ['job/photos/b/IMG_1.jpg', four]])).toEqual([['changed', 'photos/b/IMG_1.jpg', ''], ['missing', 'photos/a/IMG_1.jpg', ''], ['unchanged', 'findings.md', '']]);
  });

  test('two names exchanged are two renamed; a name whose file holds the bytes of another that is here is changed', () => {
    const two_names = [{ path: 'A.jpg', sha256: one }, { path: 'B.jpg', sha256: two }];
    const said = (given: [string, string][]): [Kind, string, string][] => compareFiles(two_names, given.map(([path, sha256]) => ({ path, sha256 })), list).map(({ kind, name, other }) => [kind, name, other]);
    expect(said([['A.jpg', two], ['B.jpg', one]])).toEqual([['renamed', 'A.jpg', 'B.jpg'], ['renamed', 'B.jpg', 'A.jpg']]);
    expect(said([['A.jpg', one], ['B.jpg', one]])).toEqual([['changed', 'B.jpg', ''], ['unchanged', 'A.jpg', '']]);
    expect(said([['A.jpg', four], ['copy of A.jpg', one], ['B.jpg', two]])).toEqual([['changed', 'A.jpg', ''], ['copy', 'copy of A.jpg', 'A.jpg'], ['unchanged', 'B.jpg', '']]);
  });

  test('what cannot be read is neither changed nor missing; what has no hash cannot be told', () => {
    expect(kinds([['findings.md', ''], ['IMG_1.jpg', two], ['x.jpg', '']])).toEqual([['missing', 'photos/b/IMG_1.jpg', ''], ['unread', 'findings.md', ''], ['unread', 'x.jpg', ''], ['unchanged', 'photos/a/IMG_1.jpg', '']]);
    expect(compareFiles([{ path: 'a.jpg', sha256: '' }], [{ path: 'a.jpg', sha256: four }], list).map(({ kind, name }) => [kind, name])).toEqual([['no hash', 'a.jpg'], ['unknown', 'a.jpg']]);
  });

  test('the list is known by its hash, or as another by its name', () => {
    expect(compareFiles([], [{ path: 'list.txt', sha256: list }, { path: 'job/originals-sha256.txt', sha256: four }], list).map(({ kind }) => kind)).toEqual(['other list', 'list']);
  });

  test('the order they are given in says nothing, and accents taken apart are the same name', () => {
    const given: [string, string][] = [['z.jpg', hashText('z')], ['IMG_1.jpg', four], ['a.jpg', hashText('a')], ['findings.md', one], ['B.jpg', hashText('B')]];
    expect(kinds(given)).toEqual(kinds(given.toReversed()));
    expect(kinds(given).map(([, name]) => name)).toEqual(['photos/a/IMG_1.jpg', 'photos/b/IMG_1.jpg', 'B.jpg', 'a.jpg', 'z.jpg', 'findings.md']);
    expect(compareFiles([{ path: 'Tür.jpg'.normalize('NFC'), sha256: one }], [{ path: 'Tür.jpg'.normalize('NFD'), sha256: one }], list)[0]?.kind).toBe('unchanged');
  });

  test('the list made again from a table is the one that was sealed, names with a line break or a backslash too', () => {
    const odd = [...listed, { path: 'photos/line\nbreak.jpg', sha256: four }, { path: 'photos/back\\slash.jpg', sha256: four }, { path: 'unread.jpg', sha256: '' }];
    expect(listText(odd)).toBe(hashList(odd));
  });

  test('a hash is read however a letter broke it, a list with its line ends mended, all else is neither', () => {
    expect(readPasted(` ${two.slice(0, 30)}\n${two.slice(30).toUpperCase()} `)).toEqual({ kind: 'hash', text: two });
    expect(readPasted(hashList(listed).replaceAll('\n', '\r\n'))).toEqual({ kind: 'list', text: hashList(listed) });
    expect(readPasted(`\n${hashList(listed).trimEnd()}`)).toEqual({ kind: 'list', text: hashList(listed) });
    for (const text of ['', 'all well', two.slice(1)]) expect(readPasted(text).kind, text).toBe('neither');
  });

  test('files of the system are told by their names', () => {
    expect(['.DS_Store', 'job/.sillbook/x.jpg', 'photos/Thumbs.db', 'photos/IMG_1.jpg', 'a.b/c.jpg'].map(isHidden)).toEqual([true, true, true, false, false]);
  });
});
