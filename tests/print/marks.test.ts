import fc from 'fast-check';
import { expect, test } from 'vitest';
import type { DossierMark } from '../../src/model/dossier-mark.ts';
import { drawnMarks } from '../../src/print/marks.ts';
import type { DrawnMark } from '../../src/print/marks.ts';
import { everyMark } from './marked-dossier.ts';

function only(shape: DossierMark['shape'], numbers: number[], size: [number, number] = [1600, 1200]): DrawnMark | undefined {
  return drawnMarks([{ shape, numbers, number: 1, label: '' }], ...size)[0];
}

/** Where a disc of the size it has on a phone stands: its centre 8 % of the longer side away from its mark. */
function centreOf({ disc }: DrawnMark, width: number, height: number): [number, number] {
  const away = 0.078 * Math.max(width, height);
  return [(disc?.at[0] ?? 0) + (disc?.direction[0] ?? 0) * away, (disc?.at[1] ?? 0) + (disc?.direction[1] ?? 0) * away];
}

test('a ring is a circle whose radius is a fraction of the width, whatever the picture’s shape', () => {
  expect(only('ring', [0.5, 0.25, 0.1])?.strokes).toEqual([{ kind: 'circle', centre: [800, 300], radius: 160 }]);
  expect(only('ring', [0.5, 0.25, 0.1], [1200, 1600])?.strokes).toEqual([{ kind: 'circle', centre: [600, 400], radius: 120 }]);
});

test('an arrow ends at its second point, its head within its length; a scale has an upright at each end', () => {
  const [shaft, head] = only('arrow', [0.1, 0.5, 0.5, 0.5])?.strokes ?? [];
  expect(shaft).toMatchObject({ points: [[160, 600], [800, 600]], closed: false });
  const [barb, tip, other] = head?.kind === 'line' ? head.points : [];
  expect(tip).toEqual([800, 600]);
  for (const point of [barb, other]) expect(point?.[0]).toBeGreaterThan(160);
  for (const point of [barb, other]) expect(point?.[0]).toBeLessThan(800);
  expect((barb?.[1] ?? 0) + (other?.[1] ?? 0)).toBeCloseTo(1200);
  const [line, left, right] = only('scale', [0.1, 0.9, 0.5, 0.9])?.strokes ?? [];
  expect(line).toMatchObject({ points: [[160, 1080], [800, 1080]] });
  for (const [tick, x] of [[left, 160], [right, 800]] as const) expect(tick?.kind === 'line' && tick.points.map((point) => point[0])).toEqual([x, x]);
});

test('only the frame of counted points is dashed; a box and an outline are closed', () => {
  const drawn = drawnMarks(everyMark, 1600, 1200);
  expect(drawn.map(({ dashed }) => dashed)).toEqual([false, false, false, false, false, true]);
  for (const index of [2, 4, 5]) expect(drawn[index]?.strokes).toEqual([expect.objectContaining({ kind: 'line', closed: true })]);
});

test('a lone mark has no number; several have theirs beside them, apart from each other', () => {
  expect(only('ring', [0.5, 0.5, 0.1])?.disc).toBeNull();
  for (const [width, height] of [[1600, 1200], [1200, 1600]] as const) {
    const drawn = drawnMarks(everyMark, width, height);
    expect(drawn.map(({ disc }) => disc?.number)).toEqual([1, 2, 3, 4, 5, 6]);
    const centres = drawn.map((mark) => centreOf(mark, width, height));
    for (const [index, [x, y]] of centres.entries()) {
      for (const [ox, oy] of centres.slice(index + 1)) expect(Math.hypot(x - ox, y - oy)).toBeGreaterThan(0.1 * Math.max(width, height));
    }
  }
  // Outside of its ring.
  const [ring] = drawnMarks(everyMark, 1600, 1200);
  const [x, y] = ring ? centreOf(ring, 1600, 1200) : [0, 0];
  expect(Math.hypot(x - 400, y - 300)).toBeGreaterThan(160);
});

const fraction = fc.double({ min: 0, max: 1, noNaN: true });
const anyMark = fc.oneof(
  fc.tuple(fc.constant('ring' as const), fc.array(fraction, { minLength: 3, maxLength: 3 })),
  fc.tuple(fc.constantFrom('arrow' as const, 'box' as const, 'scale' as const, 'grid frame' as const), fc.array(fraction, { minLength: 4, maxLength: 4 })),
  fc.tuple(fc.constant('outline' as const), fc.array(fraction, { minLength: 3, maxLength: 9 })),
);

test('whatever is marked, every figure is a number and every disc stands in the picture', () => {
  fc.assert(
    fc.property(fc.array(anyMark, { minLength: 2, maxLength: 8 }), fc.integer({ min: 300, max: 2400 }), fc.integer({ min: 300, max: 2400 }), (marks, width, height) => {
      const drawn = drawnMarks(marks.map(([shape, numbers], index) => ({ shape, numbers, number: index + 1, label: '' })), width, height);
      // JSON has null for what is no number.
      expect(JSON.stringify(drawn.map(({ strokes, disc }) => [strokes, disc?.at, disc?.direction]))).not.toContain('null');
      for (const mark of drawn) {
        // The mark touches the picture, so its number can as well.
        const [x, y] = mark.disc?.at ?? [0, 0];
        if (x < 0 || y < 0 || x > width || y > height) continue;
        const [cx, cy] = centreOf(mark, width, height);
        const slack = 0.08 * Math.max(width, height);
        expect(cx).toBeGreaterThanOrEqual(-slack);
        expect(cy).toBeGreaterThanOrEqual(-slack);
        expect(cx).toBeLessThanOrEqual(width + slack);
        expect(cy).toBeLessThanOrEqual(height + slack);
      }
    }),
  );
});

test('marks in the corners and marks as large as the picture have their numbers in it whole', () => {
  const numbers: DossierMark[] = [
    { shape: 'box', numbers: [0, 0, 1, 1], number: 1, label: '' },
    { shape: 'ring', numbers: [0, 0, 0.02], number: 2, label: '' },
    { shape: 'ring', numbers: [1, 0, 0.02], number: 3, label: '' },
    { shape: 'arrow', numbers: [0, 1, 0.3, 0.7], number: 4, label: '' },
    { shape: 'ring', numbers: [0.5, 0.5, 0.5], number: 5, label: '' },
    { shape: 'outline', numbers: [0, 0, 1, 0, 1, 1, 0, 1], number: 6, label: '' },
  ];
  for (const [width, height] of [[1600, 1200], [1200, 1600]] as const) {
    for (const mark of drawnMarks(numbers, width, height)) {
      const [x, y] = centreOf(mark, width, height);
      const radius = 0.0599 * Math.max(width, height);
      for (const [value, length] of [[x, width], [y, height]] as const) {
        expect(value, `${mark.disc?.number}`).toBeGreaterThanOrEqual(radius);
        expect(value, `${mark.disc?.number}`).toBeLessThanOrEqual(length - radius);
      }
    }
  }
});

test('a mark without the numbers of its shape is left out, the others keep theirs', () => {
  const [ring, arrow] = everyMark as [DossierMark, DossierMark];
  expect(drawnMarks([{ ...ring, numbers: [0.1, 0.2, 0.3, 0.4] }, arrow], 100, 100).map(({ disc }) => disc?.number)).toEqual([2]);
});

test('the number of a scale within a ring does not sit on the ring, and its length stands beside the line', () => {
  const marks: DossierMark[] = [
    { shape: 'scale', numbers: [0.424, 0.51, 0.582, 0.51], number: 1, label: '25 mm', length: '25 mm' },
    { shape: 'ring', numbers: [0.5, 0.51, 0.1], number: 2, label: 'open hole' },
  ];
  const [width, height] = [1600, 1200];
  const [scale] = drawnMarks(marks, width, height);
  const { at, direction } = scale?.disc ?? { at: [0, 0], direction: [0, 0] };
  const centre = [at[0] + 0.04 * width * direction[0], at[1] + 0.04 * width * direction[1]] as const;
  expect(Math.abs(Math.hypot(centre[0] - 800, centre[1] - 612) - 160)).toBeGreaterThan(0.03 * width);
  expect(scale?.length).toMatchObject({ words: '25 mm', at: [804.8, 612], direction: [expect.closeTo(0), -1] });
  // Not where the number stands.
  expect(Math.sign(direction[1])).not.toBe(-1);
});

test('the length of a scale at the upper edge stands below it, of an upright one beside it', () => {
  const words = (numbers: number[]): DossierMark[] => [{ shape: 'scale', numbers, number: 1, label: '', length: '50 mm' }];
  expect(drawnMarks(words([0.2, 0.01, 0.5, 0.01]), 1600, 1200)[0]?.length?.direction[1]).toBe(1);
  expect(Math.abs(drawnMarks(words([0.2, 0.2, 0.2, 0.6]), 1600, 1200)[0]?.length?.direction[0] ?? 0)).toBe(1);
  expect(drawnMarks(words([0.98, 0.2, 0.98, 0.6]), 1600, 1200)[0]?.length?.direction[0]).toBe(-1);
});

test('an outline is drawn with the rectangle it is a share of, which is dashed by the printers', () => {
  const [outline] = drawnMarks([{ shape: 'outline', numbers: [0.1, 0.2, 0.3, 0.2, 0.3, 0.5], within: [0.1, 0.1, 0.9, 0.8], number: 1, label: '' }], 1000, 500);
  expect(outline).toMatchObject({ dashed: false, frame: [{ kind: 'line', closed: true, points: [[100, 50], [900, 50], [900, 400], [100, 400]] }] });
  expect(drawnMarks(everyMark, 1000, 500).every(({ frame }) => frame.length === 0)).toBe(true);
});
