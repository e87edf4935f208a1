import type { Dossier } from '../../model/dossier.ts';
import { stateOf } from './blocks.ts';
import type { SiteBrief } from './data.ts';

/** Steps in a print of one page; the page's script takes off the last of them where they do not fit. */
const most = 5;

/** What a print of one page says besides the answer, its facts and the drawing. Its titles are no links: paper leads nowhere. */
export function briefOf({ sections, originals }: Dossier): SiteBrief {
  const all = sections.filter(({ blocks }) => blocks.some(({ type }) => type === 'steps')).flatMap(({ blocks }) => blocks);
  const steps = all.flatMap((block) => (block.type === 'steps' ? block.items : []));
  // Those after the first follow in a table, each row by the id of its step.
  const further = all.flatMap((block) => (block.type === 'table' ? block.rows.filter(({ id }) => id?.startsWith('step-')) : []));
  const plain = (run: SiteBrief['steps'][number]['title'][number]): SiteBrief['steps'][number]['title'][number] => {
    if (typeof run === 'string') return run;
    const { href: _href, ...words } = run;
    return words;
  };
  return { steps: steps.slice(0, most).map((step) => ({ title: step.title.map(plain), state: stateOf(step) })), count: steps.length + further.length, listSha256: originals.listSha256 };
}
