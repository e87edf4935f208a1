import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { editorsOf } from '../../src/read/photos/editors.ts';
import { readPhotos } from '../../src/read/photos/index.ts';
import { timePhotos } from '../../src/read/photos/times.ts';

let folder = '';
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'sillbook-editors-'));
});
afterAll(() => rm(folder, { recursive: true, force: true }));

const xmp = (inner: string): string => `<x:xmpmeta xmlns:x="adobe:ns:meta/"><rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#"><rdf:Description rdf:about="" xmlns:xmp="http://ns.adobe.com/xap/1.0/" xmlns:xmpMM="http://ns.adobe.com/xap/1.0/mm/" xmlns:stEvt="http://ns.adobe.com/xap/1.0/sType/ResourceEvent#">${inner}</rdf:Description></rdf:RDF></x:xmpmeta>`;
const history = '<xmpMM:History><rdf:Seq><rdf:li stEvt:action="saved" stEvt:softwareAgent="darktable 4.6"/><rdf:li rdf:parseType="Resource"><stEvt:softwareAgent>GIMP 2.10</stEvt:softwareAgent></rdf:li></rdf:Seq></xmpMM:History>';

test('programs are found in software, creator tool and history, each once', () => {
  expect(editorsOf(['Adobe Photoshop 25.0', null], xmp(`<xmp:CreatorTool>Adobe Photoshop 25.0</xmp:CreatorTool>${history}`))).toEqual(['Adobe Photoshop 25.0', 'darktable 4.6', 'GIMP 2.10']);
});

// Software of phones and cameras as they write it, from memory and from the corpus of camera originals.
test.each(['17.4.1', 'HDR+ 1.0.585804401zd', 'Ver.1.00', 'S911BXXU1AWBM', 'GR Firmware Ver 01.10', 'ILCE-7SM3 v1.01', 'Digital Photo', 'Corelli D1', ''])('"%s" is no program that alters photos', (software) => {
  expect(editorsOf([software], xmp(`<xmp:CreatorTool>${software}</xmp:CreatorTool>`))).toEqual([]);
});

test('a photo saved by a program gets one neutral notice, later date or not', async () => {
  const picture = () => sharp({ create: { width: 8, height: 6, channels: 3, background: '#a05030' } });
  const taken = { DateTimeOriginal: '2026:03:14 10:12:41' };
  await picture().withExif({ IFD0: { Software: 'Snapseed 2.0', DateTime: '2026:03:15 09:00:00' }, IFD2: taken }).jpeg().toFile(join(folder, 'a.jpg'));
  await picture().withExif({ IFD0: { Make: 'Acme' }, IFD2: taken }).withXmp(xmp(history)).jpeg().toFile(join(folder, 'b.jpg'));
  await picture().withExif({ IFD0: { Software: '17.4.1', DateTime: '2026:03:15 09:00:00' }, IFD2: taken }).jpeg().toFile(join(folder, 'c.jpg'));
  await picture().withExif({ IFD0: { Software: '17.4.1', DateTime: '2026:03:14 10:12:43' }, IFD2: taken }).jpeg().toFile(join(folder, 'd.jpg'));
  const { photos } = await readPhotos(folder);
  const { notices } = timePhotos(photos, { seen: null, clocks: [], built: null, today: '2026-11-25' });
  expect(notices.map(({ level, rule, spot, found }) => [level, rule, spot?.file, found])).toEqual([
    ['note', 'photo-edited', 'a.jpg', 'Saved by "Snapseed 2.0" after it was taken (taken 2026:03:14 10:12:41, last changed 2026:03:15 09:00:00)'],
    ['note', 'photo-edited', 'b.jpg', 'Saved by "darktable 4.6" and "GIMP 2.10"'],
    ['note', 'photo-changed-later', 'c.jpg', 'File says taken 2026:03:14 10:12:41, last changed 2026:03:15 09:00:00, software "17.4.1"'],
  ]);
  expect(JSON.stringify(notices)).not.toMatch(/fake|manipulat|genuine|tamper|suspicious|altered/i);
});
