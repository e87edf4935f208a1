import { existsSync, readdirSync } from 'node:fs';
import path from 'node:path';
import { expect, test } from 'vitest';
import { corpusFolder, corpusIsRequired } from '../corpus/corpus.ts';
import { folderStore } from '../../src/seal/store.ts';
import { verify } from '../../src/seal/verify.ts';

// Library of Congress, bagit-conformance-suite (public domain). "linux-only" and "windows-only" hold bags that are wrong by
// the paths of one system; such paths are refused on every system here, as a bag travels.
const suite = path.join(corpusFolder() ?? '', 'bagit');
const bags = ['v0.96', 'v0.97', 'v1.0'].flatMap((version) =>
  ['valid', 'warning', 'invalid', 'linux-only', 'windows-only'].flatMap((kind) => {
    const folder = path.join(suite, version, kind);
    if (!existsSync(folder)) return [];
    // A Makefile lies in two of the folders; it is no bag.
    return readdirSync(folder, { withFileTypes: true }).filter((entry) => entry.isDirectory()).map((entry) => ({ version, kind, name: entry.name, folder: path.join(folder, entry.name) }));
  }),
);

test('the suite is there, whole', () => {
  if (corpusFolder() === null) return expect(corpusIsRequired, 'on a build machine the corpus has to be there').toBe(false);
  expect(bags.filter(({ kind }) => kind === 'valid')).toHaveLength(21);
  expect(bags).toHaveLength(54);
});

test.each(bags)('$version $kind: $name', async ({ kind, folder }) => {
  const { differences, warnings } = await verify(await folderStore(folder));
  if (kind === 'valid' || kind === 'warning') expect(differences).toEqual([]);
  else expect(differences).not.toEqual([]);
  if (kind === 'warning') expect(warnings.filter((line) => !/slips, not intent/.test(line))).not.toEqual([]);
});
