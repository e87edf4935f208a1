import { readFileSync } from 'node:fs';
import type { Dossier } from '../../../src/model/dossier.ts';
import type { Photo } from '../../../src/model/photo.ts';
import { dossierOf, judged } from '../../write/builders.ts';

/** Words that would be markup, end a script, an attribute or a page, or fit nowhere. */
export const hostile = [
  '<img src=x onerror="document.title=\'taken\'">',
  '</script><script>document.title="taken"</script>',
  'a "quoted" word & an \'apostrophe\'',
  `very${'long'.repeat(60)}word`,
  'bolt 🔩 and 👩🏽‍🔧 of the shop',
  'صدأ في العتبة اليسرى',
  '‮turned‬ round',
] as const;

/** The sample job with hostile words in its narrative, in a finding, and in a place. */
export function hostileDossier(): Dossier {
  const sample = readFileSync('sample-job/2026-03-14/findings.md', 'utf8');
  const text = sample.replace('# Sill, left\n', `# Sill, left\n\n${hostile.map((line) => line.replace(/^</, '\\<')).join('\n\n')}\n\n- grommet, ${hostile[0]}: missing. ${hostile[1]}\n`);
  return withoutPictures(text, ['IMG_4021.jpg', 'IMG_4022.jpg', 'SC_0007.jpg']);
}

/** A car of which every zone is written about: about 400 lines in the register and 300 photos. */
export function largeDossier(): Dossier {
  const zones = dossierOf(judged('# Car\n\n- car: Larkfield 1500\n- body: saloon\n- doors: 4\n')).index?.zones ?? [];
  const names: string[] = [];
  const photo = (): string => {
    names.push(`IMG_${String(5000 + names.length)}.jpg`);
    return names.at(-1) ?? '';
  };
  const zoneText = (name: string, index: number): string => {
    const plugs = Array.from({ length: 5 }, (_, at) => `- plug, row ${at + 1}: ${['missing', 'sound', 'cracked', 'not seen. carpet glued down'][(index + at) % 4]}. pressed, words of the inspector about it ${photo()}`);
    return [`# ${name}`, '', 'Words about this zone as an inspector writes them, of some length, with what was seen first and what follows from it.', '', ...plugs, `- metal inside: scaling. ${photo()}`, '- coating inside: bare', `- do: wash out, dry, wax, fit plugs. 2 h`, ''].join('\n');
  };
  const text = ['# Car\n\n- car: Larkfield 1500\n- body: saloon\n- doors: 4\n', ...zones.map(({ name }, index) => zoneText(name, index))].join('\n');
  while (names.length < 300) photo();
  // Zone after zone, a photo a minute.
  const taken = (photo: Photo): Photo => {
    const minute = 9 * 60 + names.indexOf(photo.name);
    const local = `2026-03-14T${String(Math.floor(minute / 60)).padStart(2, '0')}:${String(minute % 60).padStart(2, '0')}:00`;
    return { ...photo, takenAt: photo.takenAt && { ...photo.takenAt, local, asWritten: local } };
  };
  return withoutPictures(text, names, taken);
}

function withoutPictures(text: string, names: string[], taken?: (photo: Photo) => Photo): Dossier {
  const from = judged(text, names, {}, taken);
  return dossierOf(from, 'purchase', null, { pictures: new Map(from.inspection.photos.map(({ photo }) => [photo.id, { renditions: [], flaw: 'no picture was made of it' }])) });
}
