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
 * An SVG to lay over a picture of that size: the frame of the region and a cross at every point, open in the middle so that
 * what is counted stays to be seen, with its number from 1 beside it. All in pixels.
 */
export function gridOverlay({ width, height }: { width: number; height: number }, [left, top, right, bottom]: Region, points: readonly Corner[], side: number): string {
  const cell = Math.min(right - left, bottom - top) / side;
  const digit = Math.min(26, Math.max(7, cell * 0.16));
  const arm = Math.min(24, Math.max(6, cell * 0.16));
  const gap = Math.max(2.5, arm * 0.3);
  const drawn = [
    line([[left, top], [right, top], [right, bottom], [left, bottom], [left, top]]),
    ...points.flatMap((point, index) => [cross(point, arm, gap), number(index + 1, point, digit, gap)]),
  ].join('');
  const stroke = Math.max(1.2, digit / 9);
  const path = (colour: string, wide: number): string => `<path d="${drawn}" fill="none" stroke="${colour}" stroke-width="${text(wide)}" stroke-linecap="round" stroke-linejoin="round"/>`;
  // Dark below light is read on any ground.
  return `<svg xmlns="http://www.w3.org/2000/svg" width="${width}" height="${height}">${path('#000000', stroke * 2.6)}${path('#ffffff', stroke)}</svg>`;
}

function cross([x, y]: Corner, arm: number, gap: number): string {
  return [[1, 0], [-1, 0], [0, 1], [0, -1]].map(([across = 0, down = 0]) => line([[x + across * gap, y + down * gap], [x + across * arm, y + down * arm]])).join('');
}

/** Digits to the lower right of a point. */
function number(value: number, [x, y]: Corner, high: number, gap: number): string {
  const unit = high / 5;
  return [...String(value)].map((figure, index) => {
    const [left, top] = [x + gap * 2.1 + index * unit * 4.4, y + gap * 2.1];
    const parts = (strokes[Number(figure)] ?? '').split('|');
    return parts.map((part) => line(part.split(' ').map((corner): Corner => {
      const [across = 0, down = 0] = corner.split(',').map(Number);
      return [left + across * unit, top + down * unit];
    }))).join('');
  }).join('');
}

function line(corners: readonly Corner[]): string {
  return corners.map(([x, y], index) => `${index === 0 ? 'M' : 'L'}${text(x)} ${text(y)}`).join('');
}

function text(pixels: number): string {
  return pixels.toFixed(1);
}
