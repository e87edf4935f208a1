import type { Section } from '../../model/dossier.ts';
import { countText } from '../../units.ts';
import type { Context } from '../context.ts';
import { cell, facts, heading, paragraph, table } from '../inline.ts';

const check = 'sha256sum -c originals-sha256.txt';
const checkMac = 'shasum -a 256 -c originals-sha256.txt';

/** The original files with their hashes, how to check them, and what a match is worth. */
export function files(context: Context): Section {
  const { originals } = context;
  const rows = originals.files.map((file) => ({
    cells: [cell(file.path), cell(String(file.bytes)), cell(...(file.sha256 === '' ? ['could not be read'] : [{ text: file.sha256, code: true as const }]))],
  }));
  return {
    id: 'files',
    title: 'Original files and their hashes',
    page: 'files',
    nav: 'Original files',
    breakBefore: true,
    blocks: [
      ...facts([
        { term: 'Files in the list', value: [countText(originals.count, 'file', 'files')] },
        { term: 'SHA-256 of the list itself', value: [{ text: originals.listSha256, code: true }] },
      ]),
      heading('What this shows'),
      paragraph('A hash is a short number worked out from every byte of a file. If a file gives the same number today, it has not changed since the list was made. It says nothing about the time before, nor about what stood in front of the camera.'),
      paragraph('A list kept beside the photos proves nothing against whoever holds both: files and list could be changed together. So the hash of the list stands on the cover. Lodge it with somebody else on the day, mailed to the insurer or noted on the invoice; then neither the list nor any file in it can change without showing.'),
      heading('How to check'),
      paragraph('In the folder with the original files and the list, run:'),
      { type: 'code', text: `${check}\n${checkMac}` },
      paragraph('The first is for Linux, the second for macOS. Each line should end in “OK”. On Windows, Get-FileHash in PowerShell gives the number of one file, to compare with the list. Then do the same with the list itself, and compare with the number that was lodged.'),
      ...(rows.length === 0 ? [paragraph('There is no file in the list.')] : table('Original files', [['File', 2], ['Bytes>', 1], ['SHA-256', 6]], rows)),
    ],
  };
}
