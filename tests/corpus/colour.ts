import sharp from 'sharp';
import type { Sharp } from 'sharp';

/** Mean colours of a grid of cells over a whole picture: what is compared is colour, not how sharp a kernel resizes. */
export interface Cells {
  across: number;
  down: number;
  /** L*, a*, b* of each cell, row by row. */
  lab: [number, number, number][];
}

/** CIE L*a*b* with the D65 white of sRGB (IEC 61966-2-1; CIE 15). */
function labOf(red: number, green: number, blue: number): [number, number, number] {
  const linear = (value: number): number => (value / 255 <= 0.04045 ? value / 255 / 12.92 : ((value / 255 + 0.055) / 1.055) ** 2.4);
  const [r, g, b] = [linear(red), linear(green), linear(blue)];
  const f = (t: number): number => (t > 216 / 24389 ? Math.cbrt(t) : ((24389 / 27) * t + 16) / 116);
  const [x, y, z] = [f((0.4124 * r + 0.3576 * g + 0.1805 * b) / 0.9505), f(0.2126 * r + 0.7152 * g + 0.0722 * b), f((0.0193 * r + 0.1192 * g + 0.9505 * b) / 1.089)];
  return [116 * y - 16, 500 * (x - y), 200 * (y - z)];
}

/** Means of the cells of a picture in sRGB; a pixel belongs to the cell its middle lies in. */
export async function cells(image: Sharp, across = 8, down = 8): Promise<Cells> {
  const { data, info } = await image.toColourspace('srgb').removeAlpha().raw({ depth: 'uchar' }).toBuffer({ resolveWithObject: true });
  const sums = Array.from({ length: across * down }, () => [0, 0, 0, 0] as [number, number, number, number]);
  for (let y = 0; y < info.height; y += 1) {
    const row = Math.floor(((y + 0.5) * down) / info.height) * across;
    for (let x = 0; x < info.width; x += 1) {
      const sum = sums[row + Math.floor(((x + 0.5) * across) / info.width)];
      if (!sum) throw new Error('no such cell');
      const at = (y * info.width + x) * info.channels;
      for (let channel = 0; channel < 3; channel += 1) sum[channel] = (sum[channel] ?? 0) + (data[at + (info.channels < 3 ? 0 : channel)] ?? 0);
      sum[3] += 1;
    }
  }
  const filled = sums.filter(([, , , count]) => count > 0);
  return { across, down, lab: filled.map(([red, green, blue, count]) => labOf(red / count, green / count, blue / count)) };
}

/** Mean and largest CIE 1976 colour difference (CIE 15) of two pictures' cells. */
export function difference(one: Cells, other: Cells): { mean: number; largest: number } {
  if (one.lab.length !== other.lab.length) throw new Error(`${one.lab.length} cells against ${other.lab.length}`);
  const all = one.lab.map((lab, at) => Math.hypot(...lab.map((value, axis) => value - (other.lab[at]?.[axis] ?? Number.NaN))));
  return { mean: all.reduce((sum, each) => sum + each, 0) / all.length, largest: Math.max(...all) };
}

/** A picture whose colours libvips turned to sRGB before anything else, at its full size: the other way round than ours. */
export function reference(file: string, { turn }: { turn: boolean }): Sharp {
  const image = sharp(file, { failOn: 'none', limitInputPixels: false });
  return (turn ? image.autoOrient() : image).flatten({ background: '#ffffff' });
}
