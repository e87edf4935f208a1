import type { BlockOf } from '../../src/model/dossier.ts';
import type { RangeBar } from '../../src/model/range-bar.ts';

type Values = [best: number, low: number, middle: number, high: number, worst: number];

function bar(label: string, [best, low, middle, high, worst]: Values): RangeBar {
  const range = low === high ? `${low} in 100` : `${low} to ${high} in 100`;
  const bounds = best === low && worst === high ? 'nothing unseen moves it' : `with everything unseen at its best ${best}, at its worst ${worst}`;
  return { label, best, low, middle, high, worst, text: `${range}; ${bounds}` };
}

/** A made-up outlook with what is hard to draw: nothing, everything, one value, all of the scale, one bar, a long name. */
export function sampleOutlook(link = '#sill-left'): BlockOf<'outlook'> {
  const left = (values: Values): RangeBar => bar('if left', values);
  const done = (values: Values): RangeBar => bar('with the work done', values);
  return {
    type: 'outlook',
    caption: 'Chance that the steel is through within five years, in 100',
    items: [
      {
        id: 'outlook-outer-cell',
        name: 'Outer cell, carries load',
        inline: ['If left it is ', { text: 'unlikely', strong: true }, ' to be through within five years ', { text: '(12 to 31 in 100)', quiet: true }, ', and ', { text: 'exceptionally unlikely to very unlikely', strong: true }, ' once washed out, plugged and waxed ', { text: '(1 to 4 in 100)', quiet: true }, '.'],
        bars: [left([4, 12, 20, 31, 66]), done([0, 1, 2, 4, 30])],
      },
      {
        id: 'outlook-inner-cell',
        name: 'Inner cell',
        inline: [{ text: 'Cannot be told without a look', strong: true }, { text: ' (3 to 96 in 100)', quiet: true }, ': nothing of its inside was seen. ', { text: 'What it takes to see it', href: link }, '.'],
        bars: [left([0, 3, 41, 96, 100]), done([0, 2, 22, 71, 98])],
      },
      {
        name: 'Rear end piece, patched',
        inline: ['It is through already: ', { text: 'virtually certain', strong: true }, { text: ' (100 in 100)', quiet: true }, '. A new piece starts anew.'],
        bars: [left([100, 100, 100, 100, 100]), done([0, 0, 0, 0, 0])],
      },
      {
        name: 'Cross tube between the two inner sills, from the front seat mounting of the left side to the tunnel and, behind it, the double sheet of the belt anchorage',
        inline: ['No work is named for it; ', { text: 'about as likely as not', strong: true }, { text: ' (49 to 50 in 100)', quiet: true }, '.'],
        bars: [left([49, 49, 49.5, 50, 50])],
      },
      {
        name: 'Closed box under the shelf',
        inline: ['Closed, drained and dry: ', { text: 'exceptionally unlikely', strong: true }, { text: ' (0 in 100)', quiet: true }, '.'],
        bars: [left([0, 0, 0, 0, 12])],
      },
    ],
  };
}
