import type { BlockOf } from '../../src/model/dossier.ts';
import type { Plot } from '../../src/model/plot.ts';

/** A made-up reading; `apart` are the values that stand out, `counts` false where it does not count. */
export function plotOf(name: string, values: readonly number[], given: { unit?: string; apart?: readonly number[]; marks?: Plot['marks']; counts?: boolean } = {}): Plot {
  const { unit = 'µm', apart = [], marks = [], counts = true } = given;
  const shown = (at: number): Plot['least'] => ({ at, text: `${at} ${unit}` });
  const sorted = values.toSorted((a, b) => a - b);
  const [least = 0, most = 0, median = 0] = [sorted[0], sorted.at(-1), sorted[Math.floor(sorted.length / 2)]];
  return {
    values: sorted.map((at) => ({ ...shown(at), ...(apart.includes(at) ? { apart: true as const } : {}) })),
    least: shown(least), median: shown(median), most: shown(most), marks, counts,
    text: `${sorted.length} values, ${least} to ${most} ${unit}, median ${median} ${unit}`,
    label: `${name}: ${sorted.length} values from ${least} to ${most} ${unit}.`,
  };
}

type Scale = BlockOf<'plots'>['scales'][number];

/** Readings with what is hard to draw: one value, many alike, one far off, none that counts, a long name. */
export function samplePlots(link = '#sill-left'): BlockOf<'plots'> {
  const roof = [{ at: 118, words: 'the roof, median 118 µm' }];
  const item = (name: string, plot: Plot, said = ''): Scale['items'][number] => ({ name: [{ text: name, href: link }], inline: said === '' ? [] : [said], plot });
  return {
    type: 'plots',
    caption: 'Readings, drawn',
    scales: [
      { title: 'Film, in µm', items: [
        item('Film, outer face', plotOf('Film, outer face', [480, 520, 510, 1900, 540], { apart: [1900], marks: roof }), '4.4 × the roof’s 118 µm; 1900 µm stands out from the others.'),
        { ...item('Film, one place', plotOf('Film, one place', [300], { marks: roof })), id: 'film-one' },
        item('Film, the same forty times', plotOf('Film, the same forty times', Array.from({ length: 40 }, () => 800))),
        item('Film, outer skin of the cross tube between the two inner sills, from the front seat mounting to the tunnel', plotOf('Film, long', [110, 112, 118, 121, 125], { marks: roof })),
      ] },
      { title: 'Steel, in mm', items: [
        item('Steel, outer face', plotOf('Steel, outer face', [0.6, 0.62, 0.64], { unit: 'mm', counts: false, marks: [{ at: 0.9, words: 'new sheet, 0.90 mm assumed' }] }), 'Does not count as thickness left (metal inside: scaling).'),
      ] },
    ],
  };
}

/** A made-up day of photos; `figures` are the anchors its marks lead to, in order of time. */
export function sampleTimeline(figures: readonly string[]): BlockOf<'timeline'> {
  const marks = figures.map((figure, index) => ({ at: 612 + 5 * index, figure, words: `photo ${index + 1}` }));
  return {
    type: 'timeline',
    caption: 'When the photos were taken',
    label: `${figures.length} photos; each stands below.`,
    from: 605, to: 705,
    rows: [
      { name: 'Sill, left', text: '2 photos, 10:12 to 10:17', marks: marks.slice(0, 2) },
      { name: 'Rear wheel arch, left; floor, left', text: 'the others', marks: marks.slice(2) },
    ],
    gaps: [{ from: 640, to: 690 }],
  };
}
