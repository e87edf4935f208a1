import { rmSync } from 'node:fs';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { mapDossier } from '../map/dossier.ts';
import { markedDossier } from '../marked-dossier.ts';
import { sampleDossier, writeSamplePictures } from '../sample-dossier.ts';
import { defects, planting } from './planted.ts';
import { faultsIn } from './structure.ts';
import { pdfOf, temporaryFolder } from './tools.ts';

// The same defects are put before veraPDF in archive.test.ts, where there is a JDK.

const folder = temporaryFolder();
let good: Uint8Array;

beforeAll(async () => {
  await writeSamplePictures(folder);
  good = await pdfOf(sampleDossier(), { pictureFolder: folder });
});
afterAll(() => rmSync(folder, { recursive: true }));

test('what is printed has no fault, saved anew neither', async () => {
  expect(await faultsIn(good)).toEqual([]);
  expect(await faultsIn(await planting(good, () => undefined))).toEqual([]);
  for (const dossier of [mapDossier(), markedDossier()]) expect(await faultsIn(await pdfOf(dossier, { pictureFolder: folder, size: 'Letter' }))).toEqual([]);
});

test.each(defects)('caught: $name', async ({ fault, plant }) => {
  expect(await faultsIn(await planting(good, plant))).toContain(fault);
});
