import { spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, readFileSync, readdirSync, statSync } from 'node:fs';
import path from 'node:path';
import { PDFArray, PDFDict, PDFDocument, PDFName, PDFRawStream, decodePDFRawStream } from 'pdf-lib';
import { afterAll, expect, test } from 'vitest';
import { copySample, scratch, sillbook } from './command-line.ts';

const place = scratch();
afterAll(() => place.remove());

function hashOf(file: string): string {
  return createHash('sha256').update(readFileSync(file)).digest('hex');
}

/** What is attached to a PDF, by name: what it is to the document, MIME type, bytes, date as written. */
async function attachedTo(file: string): Promise<Record<string, { relationship: string; type: string; bytes: Buffer; date: string }>> {
  const { catalog } = await PDFDocument.load(readFileSync(file), { updateMetadata: false });
  const specifications = catalog.lookupMaybe(PDFName.of('AF'), PDFArray);
  const found: [string, Awaited<ReturnType<typeof attachedTo>>[string]][] = [];
  for (let index = 0; index < (specifications?.size() ?? 0); index += 1) {
    const specification = specifications?.lookup(index, PDFDict) as PDFDict;
    const stream = specification.lookup(PDFName.of('EF'), PDFDict).lookup(PDFName.of('F')) as PDFRawStream;
    const text = (key: string, of: PDFDict = specification): string => {
      const value = of.lookup(PDFName.of(key));
      return value instanceof PDFName ? value.decodeText() : String(value).replace(/^\(|\)$/g, '');
    };
    const bytes = Buffer.from(decodePDFRawStream(stream).decode());
    found.push([text('F'), { relationship: text('AFRelationship'), type: text('Subtype', stream.dict), bytes, date: text('ModDate', stream.dict.lookup(PDFName.of('Params'), PDFDict)) }]);
  }
  return Object.fromEntries(found);
}

test('record, share and data: one PDF each time, in the list of what is delivered', async () => {
  const job = copySample(place.folder);
  const out = path.join(job, 'out');
  const file = path.join(out, 'dossier.pdf');
  const sizes: Record<string, number> = {};
  const build = (kind: string): void => {
    expect(sillbook(['build', job, '--pdf', kind])).toMatchObject({ code: 0 });
    expect(readFileSync(path.join(out, 'manifest-sha256.txt'), 'utf8')).toContain(`${hashOf(file)}  dossier.pdf\n`);
    expect(readdirSync(out).filter((name) => name.endsWith('.pdf'))).toEqual(['dossier.pdf']);
    sizes[kind] = statSync(file).size;
  };
  build('record');
  expect(await attachedTo(file)).toEqual({});
  const record = hashOf(file);
  build('share');
  // 5 MB for a hundred photos, as far as mail is concerned; a mailbox takes 20 to 25 MB (common practice).
  expect(sizes['share']).toBeLessThan(5e6 * (21 / 100));
  expect(await attachedTo(file)).toEqual({});
  build('data');
  const inside = await attachedTo(file);
  expect(Object.keys(inside)).toEqual(['dossier.json', 'findings.md', 'originals-sha256.txt']);
  expect(inside['findings.md']).toEqual({ relationship: 'Source', type: 'text/markdown', bytes: readFileSync(path.join(job, 'findings.md')), date: 'D:20260314000000Z' });
  expect(inside['dossier.json']).toMatchObject({ relationship: 'Data', type: 'application/json', bytes: readFileSync(path.join(out, 'dossier.json')) });
  expect(inside['originals-sha256.txt']).toMatchObject({ relationship: 'Supplement', type: 'text/plain', bytes: readFileSync(path.join(out, 'originals-sha256.txt')) });
  expect(sillbook(['build', job])).toMatchObject({ code: 0 });
  expect(hashOf(file)).toBe(record);
});

test('an issue takes the same kinds, and is the same to the byte when made again', async () => {
  const [one, two] = ['one', 'two'].map((name) => copySample(path.join(place.folder, name)));
  const hashes = [one, two].map((job = '') => {
    expect(sillbook(['issue', job, '--number', '1', '--date', '2026-03-15', '--pdf', 'data'])).toMatchObject({ code: 0 });
    return hashOf(path.join(job, 'issues', '1', 'dossier.pdf'));
  });
  expect(hashes[1]).toBe(hashes[0]);
  expect((await attachedTo(path.join(one ?? '', 'issues', '1', 'dossier.pdf')))['findings.md']?.date).toBe('D:20260315000000Z');
  const verified = spawnSync('sha256sum', ['-c', '--strict', '--quiet', 'manifest-sha256.txt'], { cwd: path.join(one ?? '', 'issues', '1'), encoding: 'utf8' });
  expect(verified).toMatchObject({ status: 0, stdout: '' });
});

test('a kind there is none of is wrong use, and nothing is made', () => {
  const job = copySample(path.join(place.folder, 'wrong'));
  expect(sillbook(['build', job, '--pdf', 'small'])).toMatchObject({ code: 2, err: expect.stringContaining('Choose one of record, share, data.') });
  expect(existsSync(path.join(job, 'out'))).toBe(false);
});
