import { byCodeUnit } from '../model/order.ts';
import type { Hashes } from './copy.ts';

/** Hash algorithms of a bag of ours, strongest last. */
export const algorithms = ['sha256', 'sha512'] as const;

/** A token over `manifest-sha256.txt`, kept beside it. */
export const tokenName = 'timestamp-of-manifest-sha256.tsr';

/** A name as RFC 8493 section 2.1.3 lists it: percent, carriage return and line feed are percent-encoded. */
export function encodedName(name: string): string {
  return name.replaceAll('%', '%25').replaceAll('\r', '%0D').replaceAll('\n', '%0A');
}

/** Lines of a manifest or tagmanifest: hash, two spaces, name, in the order of the names. */
export function bagList(files: ReadonlyMap<string, Hashes>, algorithm: (typeof algorithms)[number]): string {
  return [...files].toSorted(([a], [b]) => byCodeUnit(a, b)).map(([name, hashes]) => `${hashes[algorithm]}  ${encodedName(name)}\n`).join('');
}

/** `bagit.txt` of RFC 8493 section 2.1.1. */
export const declaration = 'BagIt-Version: 1.0\nTag-File-Character-Encoding: UTF-8\n';

/** `bag-info.txt`: one line a label; line ends within a value become spaces, and what is empty is left out. */
export function bagInfo(lines: readonly (readonly [label: string, value: string])[]): string {
  return lines.map(([label, value]) => [label, value.replace(/\s+/g, ' ').trim()] as const).filter(([, value]) => value !== '').map(([label, value]) => `${label}: ${value}\n`).join('');
}
