/** Red, green and blue of `#rrggbb`, `rgb(…)` or `color(srgb …)`, 0 to 255. */
function channels(colour: string): number[] {
  if (colour.startsWith('#')) return [1, 3, 5].map((at) => Number.parseInt(colour.slice(at, at + 2), 16));
  const numbers = [...colour.replace(/^\w+\(\s*(srgb)?/, '').matchAll(/[\d.]+(e-?\d+)?/g)].slice(0, 3).map(([found]) => Number(found));
  return colour.startsWith('color(') ? numbers.map((share) => share * 255) : numbers;
}

/** Contrast ratio by WCAG 2.2, definitions of relative luminance and contrast ratio, https://www.w3.org/TR/WCAG22/#dfn-contrast-ratio */
export function contrast(one: string, other: string): number {
  const luminance = (colour: string): number => {
    const [red = 0, green = 0, blue = 0] = channels(colour).map((value) => (value / 255 <= 0.04045 ? value / 255 / 12.92 : ((value / 255 + 0.055) / 1.055) ** 2.4));
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue;
  };
  const [light = 0, dark = 0] = [luminance(one), luminance(other)].sort((a, b) => b - a);
  return (light + 0.05) / (dark + 0.05);
}
