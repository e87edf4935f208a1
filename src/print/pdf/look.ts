import type { Outcome } from '../../model/catalogue.ts';

/** Paper and ink, the same tokens as the site's light look. */
export const colours = {
  ink: '#1d2730',
  soft: '#56636e',
  hair: '#d0cbbf',
  faint: '#f5f3ee',
  accent: '#1f5a73',
  slate: '#4b5560',
} as const;

/** Colour comes third: shape and word carry the state in a grey print. */
export const stateColours: Record<Outcome, string> = {
  sound: '#2f5d50',
  defect: '#8a3d12',
  'cannot tell': '#6b5313',
  'not fitted': '#56636e',
  'not seen': '#4b5560',
};

export const faces = ['regular', 'italic', 'bold', 'boldItalic'] as const;
export type Face = (typeof faces)[number];

/** How a run of text is set. Sizes and heights in points. */
export interface TextStyle {
  face: Face;
  size: number;
  lineHeight: number;
  colour: string;
}

const { ink, soft } = colours;
export const styles = {
  title: { face: 'bold', size: 27, lineHeight: 33, colour: ink },
  longTitle: { face: 'bold', size: 20, lineHeight: 26, colour: ink },
  subtitle: { face: 'regular', size: 12, lineHeight: 17, colour: soft },
  status: { face: 'bold', size: 12, lineHeight: 17, colour: ink },
  heading1: { face: 'bold', size: 17, lineHeight: 22, colour: ink },
  heading2: { face: 'bold', size: 12, lineHeight: 16, colour: ink },
  heading3: { face: 'bold', size: 10, lineHeight: 14, colour: ink },
  heading4: { face: 'bold', size: 9.5, lineHeight: 13, colour: soft },
  body: { face: 'regular', size: 9.2, lineHeight: 12.7, colour: ink },
  lead: { face: 'regular', size: 11.5, lineHeight: 16.5, colour: ink },
  quiet: { face: 'regular', size: 8.4, lineHeight: 11.3, colour: soft },
  strong: { face: 'bold', size: 9.2, lineHeight: 12.7, colour: ink },
  small: { face: 'regular', size: 8.4, lineHeight: 11.3, colour: ink },
  smallStrong: { face: 'bold', size: 8.4, lineHeight: 11.3, colour: ink },
  cell: { face: 'regular', size: 8.2, lineHeight: 11, colour: ink },
  smallHead: { face: 'bold', size: 7.8, lineHeight: 10.5, colour: soft },
  keyValue: { face: 'bold', size: 12, lineHeight: 16, colour: ink },
  caption: { face: 'regular', size: 8.5, lineHeight: 11.5, colour: soft },
  sheetCaption: { face: 'regular', size: 7, lineHeight: 9.2, colour: soft },
  code: { face: 'regular', size: 8.5, lineHeight: 12, colour: ink },
  number: { face: 'bold', size: 10.5, lineHeight: 14, colour: colours.accent },
  stepTitle: { face: 'bold', size: 10.5, lineHeight: 14, colour: ink },
  running: { face: 'regular', size: 7.5, lineHeight: 10, colour: soft },
} as const satisfies Record<string, TextStyle>;

/** Longest comfortable line of running text, about 80 letters of body text. */
export const measurePt = 420;

/** A page in points; `top` and `bottom` are where the body begins and ends, from the upper edge. */
export interface Geometry {
  width: number;
  height: number;
  left: number;
  bodyWidth: number;
  top: number;
  bottom: number;
}

/** Page measures of a paper size. */
export function geometryOf(size: 'A4' | 'Letter'): Geometry {
  const [width, height] = size === 'A4' ? [595.28, 841.89] : [612, 792];
  const side = 56;
  return { width, height, left: side, bodyWidth: width - 2 * side, top: 64, bottom: height - 62 };
}
