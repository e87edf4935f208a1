import type { Notice } from '../../model/notice.ts';
import type { Photo, TakenAt } from '../../model/photo.ts';
import type { PixelMeasures } from './measure.ts';

/** A photo with what was measured on it; null where it could not be. */
export interface MeasuredPhoto {
  photo: Pick<Photo, 'id' | 'path' | 'name' | 'sha256' | 'takenAt'>;
  measures: PixelMeasures | null;
}

/**
 * Below these a photo looks unsharp, at 400 and at 160 pixels. Of some ninety photos, of 26 camera models and of the
 * sample, the sharp ones have at least 0.35 and 0.76, the five out of focus at most 0.11 or 0.47. Of the sharp ones blurred
 * by a Gaussian on 1600 pixels, one of 6 pixels was found in 84 of 85, one of 3 in a third. Our judgement.
 */
const unsharpFine = 0.2;
const unsharpCoarse = 0.55;
/** Grey, of 255, that 95 in 100 pixels of a very dark photo stay below; the lit ring of an inspection camera is brighter. Our judgement. */
const darkBelow = 48;
/** Share of almost white pixels from which a photo is very bright: a part on a white sheet has less. Our judgement. */
const brightFrom = 0.65;
/** Bits of 128 that differ between one picture and the same saved again, smaller or at another quality. Our judgement, on the same scenes saved twice. */
const sameBits = 8;
/** … and between two pictures of one thing. Left and right look alike too, so it counts only for photos taken close together. Our judgement. */
const similarBits = 16;
const closeMs = 5 * 60_000;

/** What the pixels hint at, in the order of the photos. Pure. Each photo is compared with those before it and names the nearest. */
export function pictureHints(photos: readonly MeasuredPhoto[]): Notice[] {
  const names = new Map<string, number>();
  for (const { photo } of photos) names.set(photo.name, (names.get(photo.name) ?? 0) + 1);
  const nameOf = ({ photo }: MeasuredPhoto): string => (names.get(photo.name) === 1 ? photo.name : photo.path);
  const hashes = photos.map(({ measures }) => (measures?.hash ? wordsOf(measures.hash) : null));
  return photos.flatMap(({ photo, measures }, index) => {
    if (!measures) return [];
    const spot = { file: photo.path };
    const like = nearestBefore(photos, hashes, index);
    return [...lookHints(measures), ...(like ? [likeness(nameOf(like.other), like.bits)] : [])].map((hint): Notice => ({ level: 'note', ...hint, spot }));
  });
}

type Hint = Pick<Notice, 'rule' | 'found' | 'advice'>;

function lookHints(measures: PixelMeasures): Hint[] {
  const hints: Hint[] = [];
  if (isUnsharp(measures)) hints.push({ rule: 'photo-unsharp', found: 'Looks unsharp', advice: 'Look at it in full size; where a finding rests on it, take it again.' });
  if (measures.bright < darkBelow) hints.push({ rule: 'photo-dark', found: 'Looks very dark', advice: 'Look whether it shows what it is to show; else take it again with more light.' });
  if (measures.white >= brightFrom) hints.push({ rule: 'photo-bright', found: 'Looks very bright', advice: 'Large parts are white without detail; where a finding rests on them, take it again with less light.' });
  return hints;
}

function isUnsharp({ fine, coarse }: PixelMeasures): boolean {
  return (fine !== null && fine < unsharpFine) || (coarse !== null && coarse < unsharpCoarse);
}

function likeness(name: string, bits: number): Hint {
  if (bits > sameBits) return { rule: 'photo-similar', found: `Similar to ${name}`, advice: 'Nothing is left out for it; in a finding the sharper of the two is enough.' };
  return { rule: 'photo-similar', found: `Almost the same picture as ${name}`, advice: 'Nothing is left out for it; where one is a copy of the other, keep the file straight from the camera.' };
}

/** The photo before this one whose picture differs least, where it is like it; files of the same bytes are told elsewhere. */
function nearestBefore(photos: readonly MeasuredPhoto[], hashes: readonly (Int32Array | null)[], index: number): { other: MeasuredPhoto; bits: number } | null {
  const [one, hash] = [photos[index], hashes[index]];
  if (!one || !hash) return null;
  let nearest: { other: MeasuredPhoto; bits: number } | null = null;
  for (let at = 0; at < index; at += 1) {
    const [other, otherHash] = [photos[at], hashes[at]];
    if (!other || !otherHash || visitOf(one) !== visitOf(other)) continue;
    const bits = differentBits(hash, otherHash);
    if (bits > similarBits || (nearest && bits >= nearest.bits)) continue;
    if (one.photo.sha256 !== '' && one.photo.sha256 === other.photo.sha256) return null;
    if (bits <= sameBits || areClose(one.photo.takenAt, other.photo.takenAt)) nearest = { other, bits };
  }
  return nearest;
}

/** What stands before two hyphens in the id of a photo of an earlier visit: to show the same again is what a later visit is for. */
function visitOf({ photo }: MeasuredPhoto): string {
  return photo.id.includes('--') ? (photo.id.split('--')[0] ?? '') : '';
}

/** Compares instants where both are known, else wall clocks. */
function areClose(a: TakenAt | null, b: TakenAt | null): boolean {
  if (!a || !b) return false;
  const [one, other] = a.instant !== null && b.instant !== null ? [a.instant, b.instant] : [`${a.local}Z`, `${b.local}Z`];
  return Math.abs(Date.parse(one) - Date.parse(other)) <= closeMs;
}

function wordsOf(hash: string): Int32Array {
  return Int32Array.from([0, 8, 16, 24], (at) => Number.parseInt(hash.slice(at, at + 8), 16));
}

/** Counts of set bits of all bytes. */
const bitsOfByte = Uint8Array.from({ length: 256 }, (_, byte) => byte.toString(2).replaceAll('0', '').length);

function differentBits(a: Int32Array, b: Int32Array): number {
  let bits = 0;
  for (let at = 0; at < 4; at += 1) {
    const differs = (a[at] as number) ^ (b[at] as number);
    for (let shift = 0; shift < 32; shift += 8) bits += bitsOfByte[(differs >>> shift) & 255] as number;
  }
  return bits;
}
