import type { Words } from '../../../src/model/printed-words.ts';
import type { SiteBlockOf, SiteFigure } from '../../../src/print/site/data.ts';

/**
 * "Taken 10:12:41 on 14 March 2026, UTC+00:00, by the camera"; where the caption has the time already, "Time: UTC+00:00, by
 * the camera"; nothing where it says all there is.
 */
export function takenWords(say: Words['taken'], { taken, takenFrom, caption }: Pick<SiteFigure, 'taken' | 'takenFrom' | 'caption'>): string {
  const said = caption.map((run) => (typeof run === 'string' ? run : run.text)).join('');
  if (taken === null) return said.includes(takenFrom) ? '' : say.unknown(takenFrom);
  const [, time = taken, zone] = /^(.*), (UTC\S*)$/.exec(taken) ?? [];
  if (!said.includes(time)) return say.known(taken, takenFrom);
  return say.more(`${zone === undefined ? '' : `${zone}, `}${takenFrom}`);
}

/** Marks whose words a remark are: fact, opinion or hearsay. */
export function originWords({ remark, site }: Words, { origin, by }: Pick<SiteBlockOf<'remark'>, 'origin' | 'by'>): string {
  if (origin === 'fact') return site.fact;
  if (origin === 'opinion') return remark.opinion;
  return by === undefined ? remark.told : remark.toldBy(by);
}
