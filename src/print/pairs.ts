import type { BlockOf, DossierPhoto } from '../model/dossier.ts';

/** The frame two photos are compared in: that of the later one. In its pixels; only the ratio counts. */
export interface PairFrame {
  width: number;
  height: number;
  /** The earlier one has another shape: it stands whole in the frame, with room beside it. */
  unlike: boolean;
}

/** Shapes whose ratios differ by no more than this fill one frame alike: what a camera's rounding does. Our judgement. */
const alikeShare = 0.02;

/** Null where one of the two cannot be shown: there is nothing to compare. */
export function pairFrame({ before, after }: Pick<BlockOf<'pair'>, 'before' | 'after'>, photos: ReadonlyMap<string, DossierPhoto>): PairFrame | null {
  const [earlier, later] = [before, after].map(({ photo }) => photos.get(photo)?.renditions.toSorted((a, b) => a.width - b.width).at(-1));
  if (!earlier || !later) return null;
  const difference = (earlier.width * later.height) / (earlier.height * later.width);
  return { width: later.width, height: later.height, unlike: Math.abs(difference - 1) > alikeShare };
}
