import type { Block, Figure, Section } from '../../model/dossier.ts';
import type { PhotoPair } from '../../model/comparison.ts';
import { capital } from '../../model/wording.ts';
import { listText } from '../../units.ts';
import { nameOfZone } from '../context.ts';
import type { Context } from '../context.ts';
import { figureOf } from '../figures.ts';
import { aside } from '../inline.ts';
import { standingText, thingName } from '../over-time.ts';
import { pairBlock } from '../pair.ts';

/** Before and after: photos of the same things from two visits. Nothing where no thing stands on photos of two. */
export function pairs(context: Context): Section | null {
  const made = (context.comparison?.pairs ?? []).flatMap((pair) => pairOf(context, pair));
  if (made.length === 0) return null;
  return {
    id: 'pairs',
    title: 'Before and after',
    page: 'changes',
    nav: 'Before and after',
    breakBefore: true,
    blocks: [aside('Each pair shows the same opening or place at two visits, as the findings name it on the photos. The two are seldom taken from the very same spot, and never in the same light.'), ...made],
  };
}

function pairOf(context: Context, pair: PhotoPair): Block[] {
  const { comparison } = context;
  const figure = (id: string): Figure | null => figureOf(context, id, 'zone');
  const [before, after] = [figure(pair.before), figure(pair.after)];
  if (!comparison || !before || !after) return [];
  const [from, to] = [pair.from, pair.to].map((at) => comparison.visits[at]?.inspection.job.notes.seen?.date ?? null);
  const names = pair.lives.map((life) => thingName(context, life));
  const said = pair.lives.map((life) => {
    const [was, is] = [pair.from, pair.to].map((at) => standingText(life.standings[at] ?? null));
    return `${capital(thingName(context, life))}: ${was === is ? `${is}, as before` : `${was}, then ${is}`}.`;
  });
  const block = pairBlock(before, after, {
    title: names.length === 0 ? nameOfZone(context, pair.zone) : `${nameOfZone(context, pair.zone)}: ${listText(names)}`,
    beforeOn: from ?? null,
    afterOn: to ?? null,
    during: pair.during.flatMap((id) => figure(id) ?? []),
    words: [said.join(' ')],
    id: `pair-${pair.after}-${pair.before}`,
  });
  return block ? [block] : [];
}
