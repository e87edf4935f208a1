import type { Dossier } from '../../model/dossier.ts';
import type { SiteBrief } from './data.ts';

/** Steps in a print of one page; the page's script takes off the last of them where they do not fit. */
const most = 5;

/** What a print of one page says besides the answer, its facts and the drawing. Its titles are no links: paper leads nowhere. */
export function briefOf({ sections, originals }: Dossier): SiteBrief {
  const steps = sections.flatMap(({ blocks }) => blocks.flatMap((block) => (block.type === 'steps' ? block.items : [])));
  const plain = (run: SiteBrief['steps'][number]['title'][number]): SiteBrief['steps'][number]['title'][number] => {
    if (typeof run === 'string') return run;
    const { href: _href, ...words } = run;
    return words;
  };
  return { steps: steps.slice(0, most).map(({ title, state }) => ({ title: title.map(plain), state })), count: steps.length, listSha256: originals.listSha256 };
}
