import { readFile } from 'node:fs/promises';
import path from 'node:path';
import { distance } from 'fastest-levenshtein';
import type { Notice } from '../model/notice.ts';
import { leadsOut, linkOutside, settingsName as file } from './folder.ts';
import { settingsSchema } from '../model/settings.ts';
import type { Settings } from '../model/settings.ts';

/**
 * Reads `sillbook.json` of a folder; defaults where there is none. A value that cannot be used is an error: it would make
 * the dossier untrue. `language` goes before the one that is written.
 */
export async function readSettings(folder: string, language?: Settings['language']): Promise<{ settings: Settings; bytes: Uint8Array | null; notices: Notice[] }> {
  const defaults = inLanguage(settingsSchema.parse({}), language, false);
  const at = path.join(folder, file);
  if (await leadsOut(at, folder).catch(() => false)) return { settings: defaults, bytes: null, notices: [linkOutside(file)] };
  const bytes = await readFile(at).catch((fault: NodeJS.ErrnoException) => fault);
  if (bytes instanceof Error) {
    if (bytes.code === 'ENOENT') return { settings: defaults, bytes: null, notices: [] };
    return { settings: defaults, bytes: null, notices: [unreadable(`${file} cannot be opened (${bytes.code ?? 'unknown cause'})`)] };
  }
  const text = new TextDecoder().decode(bytes).replace(/^\uFEFF/, '');
  const { settings, notices } = parseSettings(text, language);
  return { settings, bytes, notices };
}

/** Settings out of JSON text. */
export function parseSettings(text: string, language?: Settings['language']): { settings: Settings; notices: Notice[] } {
  const defaults = inLanguage(settingsSchema.parse({}), language, false);
  let data: unknown;
  try {
    data = JSON.parse(text);
  } catch (fault) {
    return { settings: defaults, notices: [{ ...unreadable(`${file} is no JSON: ${String((fault as Error).message).split('\n')[0]}`), spot: spotOfFault(text, fault as Error) }] };
  }
  if (typeof data !== 'object' || data === null || Array.isArray(data)) return { settings: defaults, notices: [unreadable(`${file} holds no object`)] };
  const known = Object.keys(settingsSchema.shape);
  const unknown = Object.keys(data).filter((key) => !known.includes(key));
  const kept = Object.fromEntries(Object.entries(data).filter(([key]) => known.includes(key)));
  const parsed = settingsSchema.safeParse(kept);
  const notices = unknown.map((key) => unknownKey(key, known, text));
  if (parsed.success) return { settings: inLanguage(parsed.data, language, 'units' in kept), notices };
  for (const issue of parsed.error.issues) notices.push(badValue(String(issue.path[0] ?? ''), kept, text));
  return { settings: defaults, notices };
}

/** The language asked for; lengths follow it where no unit is written. */
function inLanguage(settings: Settings, asked: Settings['language'] | undefined, unitsWritten: boolean): Settings {
  const language = asked ?? settings.language;
  return { ...settings, language, units: unitsWritten ? settings.units : language === 'en-US' ? 'in' : 'mm' };
}

function unreadable(found: string): Notice {
  return { level: 'error', rule: 'settings-unreadable', spot: { file }, found, expected: 'an object such as {"currency": "EUR"}', advice: 'Mend the file or take it away; the defaults then hold.' };
}

function unknownKey(key: string, known: readonly string[], text: string): Notice {
  const near = known.find((one) => distance(one, key.toLowerCase()) <= 2);
  return { level: 'note', rule: 'setting-unknown', spot: spotOfKey(text, key), found: `Unexpected "${key}"`, expected: `one of ${known.join(', ')}`, advice: near ? `Did you mean "${near}"?` : 'It has no effect.' };
}

const forms: Record<string, string> = {
  currency: 'a code of ISO 4217 in capitals such as "EUR"',
  units: '"mm" or "in"',
  language: '"en-GB" or "en-US"',
  risk: 'an object such as {"pit-factor": [2, 3, 4.5]}',
  workshop: 'a text',
  $schema: 'a text',
  rates: 'an object such as {"labour": 55, "labour weld": [60, 75]}, numbers rising from low to high',
  tax: 'an object such as {"percent": 20, "per": "line" or "invoice", "rounding": "half-up", "half-even" or "down"}',
  materials: 'an object such as {"wax": {"filmUm": [40, 80], "solidsPercent": 45, "lossPercent": 30, "pricePerLitre": 18.5}, "paint": {}}, numbers rising from low to high',
};

function badValue(key: string, data: Record<string, unknown>, text: string): Notice {
  return { level: 'error', rule: 'setting-unclear', spot: spotOfKey(text, key), found: `${JSON.stringify(data[key])} for "${key}"`, expected: forms[key] ?? 'another value', advice: 'Mend the value; the dossier would be wrong with a guess.' };
}

/** Where a key stands in the settings file. */
export function spotOfKey(text: string, key: string): Notice['spot'] {
  return spotAt(text, Math.max(0, text.indexOf(JSON.stringify(key))));
}

function spotOfFault(text: string, fault: Error): Notice['spot'] {
  const at = /position (\d+)/.exec(fault.message)?.[1];
  return spotAt(text, at === undefined ? text.length : Number(at));
}

function spotAt(text: string, offset: number): { file: string; line: number; column: number } {
  const before = text.slice(0, offset).split('\n');
  return { file, line: before.length, column: (before.at(-1) ?? '').length + 1 };
}
