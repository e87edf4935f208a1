import { xmpValues } from './keywords.ts';

/**
 * Programs for photos as they write their names into what they save; from memory. A camera's or phone's own software is
 * none of them: it stands in the same tag.
 */
const known = [
  'acdsee', 'affinity', 'aperture', 'camera raw', 'canva', 'capture one', 'corel', 'darktable', 'digikam', 'dxo', 'facetune', 'faststone',
  'fotor', 'gimp', 'graphicsmagick', 'gthumb', 'imagemagick', 'instagram', 'iphoto', 'irfanview', 'krita', 'lightroom', 'luminar', 'meitu',
  'nik collection', 'on1', 'paint.net', 'paintshop', 'paint shop', 'photo editor', 'photo gallery', 'photofiltre', 'photoimpact', 'photoscape',
  'photoshop', 'picasa', 'picsart', 'pixelmator', 'pixlr', 'polarr', 'rawtherapee', 'remini', 'shotwell', 'snapseed', 'ufraw', 'vsco', 'xnview',
];
const name = new RegExp(`(?<![a-z])(${known.map((one) => one.replace('.', '\\.')).join('|')})(?![a-z])`, 'i');
/** Longer texts in these tags are no names. */
const longest = 80;

/** Programs known to alter photos that say they saved this one, each once, as written: from EXIF, XMP's CreatorTool and its history. */
export function editorsOf(software: readonly (string | null)[], xmp: string): string[] {
  const written = [...software, ...xmpValues(xmp, 'xmp:CreatorTool'), ...xmpValues(xmp, 'xap:CreatorTool'), ...xmpValues(xmp, 'stEvt:softwareAgent')];
  const names = written.flatMap((text) => (text !== null && name.test(text) ? [text.replace(/\s+/g, ' ').trim().slice(0, longest)] : []));
  return [...new Set(names)];
}
