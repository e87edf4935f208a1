import type { Figure, Inline } from '../model/dossier.ts';
import type { Photo } from '../model/photo.ts';
import { hintsAbout } from '../model/photo-hints.ts';
import { capital, inSentence, termIn } from '../model/wording.ts';
import { takenText } from '../units.ts';
import { nameOfZone } from './context.ts';
import type { Context } from './context.ts';
import { joined, link } from './inline.ts';
import { markText, markWords } from './marks.ts';

/** A photo as a figure: the finding, the words, then file and time. Why a photo is not shown, its empty frame says. Null for an unknown id. */
export function figureOf(context: Context, id: string, where: 'zone' | 'index'): Figure | null {
  const placed = context.photos.get(id);
  if (!placed) return null;
  const { photo, caption } = placed;
  const flaw = context.pictures.get(id)?.flaw ?? 'no picture was made of it';
  const shown = (context.pictures.get(id)?.renditions.length ?? 0) > 0;
  // Words of marks are words about the photo.
  const marked = markText(context, id, where);
  const spoken = caption !== '' || markWords(context, id).length > 0;
  const said: Inline = [
    ...joined((spoken ? caption.split(' · ').filter((one) => one !== '') : ['nothing written about it']).map(findingFirst), ' '),
    ...(spoken && caption === '' ? withoutSpace(marked) : marked),
    ...(flaw === '' || !shown ? [] : [` ${capital(flaw)}.`]),
  ];
  return { photo: id, caption: [...said, { text: ` ${fileText(photo, where)}`, quiet: true }, ...(where === 'index' ? [...placing(context, id), ...hintText(context, photo)] : [])], alt: altOf(context, id) };
}

/** File and time; where the time comes from stands in the index, and wherever there is none. */
function fileText(photo: Photo, where: 'zone' | 'index'): string {
  const { taken, takenFrom } = takenText(photo.takenAt);
  if (taken === null) return `${photo.name}, ${takenFrom}.`;
  return where === 'index' ? `${[photo.name, taken, takenFrom.replace(/^by the camera(, )?/, '')].filter((text) => text !== '').join(', ')}.` : `${photo.name}, ${taken.replace(/, UTC.*$/, '')}.`;
}

/** What begins a caption has no space before it. */
function withoutSpace([first, ...rest]: Inline): Inline {
  return typeof first === 'string' ? [first.trimStart(), ...rest] : first === undefined ? rest : [first, ...rest];
}

/** The finding strong, then the words. */
function findingFirst(caption: string): Inline {
  const [finding = '', ...words] = caption.split(/(?<=[^.]\.) /);
  return [{ text: capital(stopped(finding)), strong: true }, ...(words.length === 0 ? [] : [` ${capital(stopped(words.join(' ')))}`])];
}

function stopped(text: string): string {
  return /[.!?]$/.test(text) ? text : `${text}.`;
}

/** The finding; where nothing was written, the file, the zone it stands in and what its marks say. */
export function altOf(context: Context, id: string): string {
  const placed = context.photos.get(id);
  if (!placed) return id;
  if (placed.caption !== '') return capital(placed.caption);
  const zones = placed.zones.map((zone) => nameOfZone(context, zone)).join('; ');
  const words = markWords(context, id);
  return `${placed.photo.name}${zones ? `, ${zones}` : ', not placed'}; ${words.length > 0 ? `marked: ${words.join('; ')}` : 'nothing written about it'}`;
}

/** What is worth a second look, one quiet sentence. */
function hintText(context: Context, photo: Photo): Inline {
  const hints = hintsAbout(context.notices, photo.path);
  return hints.length === 0 ? [] : [{ text: ` ${capital(hints.join('; '))}.`, quiet: true }];
}

function placing(context: Context, id: string): Inline {
  const placed = context.photos.get(id);
  if (!placed) return [];
  const views = placed.views.map((view) => {
    const record = context.inspection.job.catalogue.views.find((one) => one.id === view);
    return record ? inSentence(termIn(record.name, context.language)) : view;
  });
  const set = views.length === 0 ? [] : [` Photo set: ${views.join(', ')}.`];
  if (placed.zones.length === 0) return views.length > 0 ? set : [` Not placed${placed.reason ? `: ${placed.reason}` : ''}.`];
  return [' In ', ...joined(placed.zones.map((zone) => [link(nameOfZone(context, zone), zone)]), '; '), placed.rule === 'named in the findings' ? '.' : `: ${placed.reason}.`, ...set];
}
