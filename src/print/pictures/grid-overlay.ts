import type { Corner, Region } from '../../model/rusted-area.ts';

/** Strokes of the digits on a field three wide and five high: no font is needed, so every machine draws the same. */
const strokes: readonly string[] = [
  '0,0 3,0 3,5 0,5 0,0',
  '0.6,1 1.8,0 1.8,5',
  '0,0 3,0 3,2.5 0,2.5 0,5 3,5',
  '0,0 3,0 3,5 0,5|0.8,2.5 3,2.5',
  '0,0 0,2.5 3,2.5|3,0 3,5',
  '3,0 0,0 0,2.5 3,2.5 3,5 0,5',
  '3,0 0,0 0,5 3,5 3,2.5 0,2.5',
  '0,0 3,0 1.2,5',
  '0,0 3,0 3,5 0,5 0,0|0,2.5 3,2.5',
  '3,2.5 0,2.5 0,0 3,0 3,5 0,5',
];

/**
 * An SVG to lay over a picture of that size: the frame of the region, a cross at every point, open in the middle so that
 * what is counted stays to be seen, with its number from 1 beside it, and in a band of `bandPx` around the picture a ruler in
 * fractions of the whole photo, of which `shown` is the part in the picture. All else in pixels.
 */
export function gridOverlay({ width, height, shown }: { width: number; height: number; shown: Region }, [left, top, right, bottom]: Region, points: readonly Corner[], side: number): string {
  const cell = Math.min(right - left, bottom - top) / side;
  const digit = Math.min(48, Math.max(8, cell * 0.24));
  const arm = Math.min(24, Math.max(6, cell * 0.16));
  const gap = Math.max(2.5, arm * 0.3);
  const drawn = [
    line([[left, top], [right, top], [right, bottom], [left, bottom], [left, top]]),
    ...points.flatMap((point, index) => [cross(point, arm, gap), digits(String(index + 1), [point[0] + gap * 2.1, point[1] + gap * 2.1], digit)]),
  ].join('');
  const ruler = rulers({ width, height, shown }).join('');
  const stroke = Math.max(1.2, digit / 9);
  // Dark below light is read on any ground.
  const both = (path: string, wide: number): string => [['#000000', wide * 2.8], ['#ffffff', wide]].map(([colour, pen]) => `<path d="${path}" fill="none" stroke="${colour}" stroke-width="${text(Number(pen))}" stroke-linecap="round" stroke-linejoin="round"/>`).join('');
  return `<svg xmlns="http://www.w3.org/2000/svg" width="${width + 2 * bandPx}" height="${height + 2 * bandPx}"><g transform="translate(${bandPx} ${bandPx})">${both(drawn, stroke)}${both(ruler, highPx / 8)}</g></svg>`;
}

/** Width of the band round the picture that the ruler stands in, and its ground: nothing of the photo is covered by it. */
export const bandPx = 104;
export const bandColour = '#1d2730';
const tickPx = 14;
const highPx = 28;

/** Ticks along all four edges with their fractions of the whole photo; tenths, or finer where fewer than four of those are in the picture. */
function rulers({ width, height, shown: [left, top, right, bottom] }: { width: number; height: number; shown: Region }): string[] {
  const columns = fractionsIn(left, right).map((one): [string, number] => [one, ((Number(one) - left) / (right - left)) * width]);
  const rows = fractionsIn(top, bottom).map((one): [string, number] => [one, ((Number(one) - top) / (bottom - top)) * height]);
  const away = tickPx + 8;
  const half = (fraction: string): number => widthOf(fraction, highPx) / 2;
  return [
    ...columns.flatMap(([fraction, x]) => [
      line([[x, 0], [x, -tickPx]]), digits(fraction, [x - half(fraction), -away - highPx], highPx),
      line([[x, height], [x, height + tickPx]]), digits(fraction, [x - half(fraction), height + away], highPx),
    ]),
    ...rows.flatMap(([fraction, y]) => [
      line([[0, y], [-tickPx, y]]), digits(fraction, [-away - 2 * half(fraction), y - highPx / 2], highPx),
      line([[width, y], [width + tickPx, y]]), digits(fraction, [width + away, y - highPx / 2], highPx),
    ]),
  ];
}

/** "0.1" to "0.9" between two ends; hundredths by five, two or one where the span holds fewer than four tenths. */
function fractionsIn(from: number, to: number): string[] {
  const step = [10, 5, 2, 1].find((hundredths) => ((to - from) * 100) / hundredths >= 4) ?? 1;
  return Array.from({ length: Math.floor(99 / step) }, (_, index) => (index + 1) * step / 100).filter((one) => one >= from && one <= to).map((one) => one.toFixed(step === 10 ? 1 : 2));
}

function cross([x, y]: Corner, arm: number, gap: number): string {
  return [[1, 0], [-1, 0], [0, 1], [0, -1]].map(([across = 0, down = 0]) => line([[x + across * gap, y + down * gap], [x + across * arm, y + down * arm]])).join('');
}

/** How far one figure lies from the next, and a point from what is beside it, in fifths of their height. */
const [figureStep, pointStep] = [4.4, 1.8];

function widthOf(figures: string, high: number): number {
  return [...figures].reduce((sum, figure) => sum + (figure === '.' ? pointStep : figureStep), -1.4) * (high / 5);
}

/** Figures whose upper left corner is at a point. */
function digits(figures: string, [x, y]: Corner, high: number): string {
  const unit = high / 5;
  let left = x;
  return [...figures].map((figure) => {
    const at = left;
    left += (figure === '.' ? pointStep : figureStep) * unit;
    const parts = (figure === '.' ? '0.2,4.8 0.4,5' : strokes[Number(figure)] ?? '').split('|');
    return parts.map((part) => line(part.split(' ').map((corner): Corner => {
      const [across = 0, down = 0] = corner.split(',').map(Number);
      return [at + across * unit, y + down * unit];
    }))).join('');
  }).join('');
}

function line(corners: readonly Corner[]): string {
  return corners.map(([x, y], index) => `${index === 0 ? 'M' : 'L'}${text(x)} ${text(y)}`).join('');
}

function text(pixels: number): string {
  return pixels.toFixed(1);
}
