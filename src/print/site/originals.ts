import type { Dossier, Inline, Section } from '../../model/dossier.ts';
import type { SiteSection } from './data.ts';

/**
 * Where a reader can check original files in the page: right above the section's table of their hashes. A table is one
 * where it gives the hash of every photo that has one; all others of the dossier give those of a few, or none.
 */
export function checkOf(section: Section, { photos, originals }: Dossier): SiteSection['check'] {
  const wanted = photos.flatMap(({ file, sha256 }) => (sha256 === '' ? [] : [`${file} ${sha256}`]));
  const at = section.blocks.findIndex((block) => {
    if (block.type !== 'table') return false;
    const rows = new Set(block.rows.map(({ cells }) => `${textOf(cells[0]?.inline ?? [])} ${textOf(cells.at(-1)?.inline ?? [])}`));
    return rows.size > 0 && wanted.every((row) => rows.has(row)) && [...rows].some((row) => / [0-9a-f]{64}$/.test(row));
  });
  return at === -1 ? null : { at, listSha256: originals.listSha256 };
}

function textOf(inline: Inline): string {
  return inline.map((run) => (typeof run === 'string' ? run : run.text)).join('');
}
