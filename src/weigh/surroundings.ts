import type { Meta, Notes } from '../model/notes.ts';
import type { Notice } from '../model/notice.ts';
import { numberText } from '../units.ts';
import type { Air } from './kinetics.ts';
import { airLimits, airRateUm, outsideLimits } from './kinetics.ts';
import type { KeptState, SaltState, Surroundings } from './states.ts';

/** Words that say where a car is kept, worst first: of several the worst counts. Our own list. */
const keptWords: readonly (readonly [KeptState, RegExp])[] = [
  ['coast', /\b(coast\w*|sea|seaside|seafront|shore|beach|harbou?r|salt air|estuary)\b/],
  ['outside', /\b(outside|outdoors?|street|drive(way)?|car ?port|open air|under a (cover|tarp\w*))\b/],
  ['heated', /(?<!not )\b(heated|dehumidified|climate.controlled|air.conditioned)\b/],
  ['inside', /\b(inside|indoors|garage\w*|barn|shed|lock.?up|storage|hall|under a roof|covered|unheated)\b/],
];

/** Words that say how much salt the roads had, in the order they are asked: a "no" before a "heavy". */
const saltWords: readonly (readonly [SaltState, RegExp])[] = [
  ['none', /^(no|none|never|not)\b|\b(no salt|unsalted|never (driven|used) in winter|summer only|dry climate)\b/],
  ['heavy', /\b(heavy|heavily|much|lots?|every winter|a lot|daily|always|severe)\b/],
  ['some', /\b(some|light|lightly|little|few|occasional\w*|sometimes|moderate|yes|salted|rarely|seldom)\b/],
];

/** Surroundings as the job says them, and what could not be made out. Nothing written is unseen, never "none". */
export function surroundingsOf(notes: Notes): { surroundings: Surroundings; notices: Notice[] } {
  const notices: Notice[] = [];
  const kept = wordOf(notes.car, 'kept', keptWords, ['heated', 'inside', 'outside', 'coast'], notices);
  const salt = wordOf(notes.car, 'winter salt', saltWords, ['none', 'some', 'heavy'], notices);
  const air = notes.car.find((meta) => meta.key === 'air' && meta.text !== '');
  return { surroundings: { kept, salt, airRateUm: air ? airRateOf(air, notices) : null }, notices };
}

function wordOf<S extends string>(car: readonly Meta[], key: string, words: readonly (readonly [S, RegExp])[], names: readonly S[], notices: Notice[]): S | 'unseen' {
  const meta = car.find((one) => one.key === key && one.text !== '');
  if (!meta) return 'unseen';
  const text = meta.text.toLowerCase();
  const found = words.find(([, pattern]) => pattern.test(text))?.[0];
  if (found !== undefined) return found;
  notices.push({
    level: 'warning', rule: 'surroundings-unclear', spot: meta.spot,
    found: `"${meta.text}" for "${key}"`,
    expected: `one of ${names.join(', ')}`,
    advice: 'The words are printed; the outlook is worked out as if nothing were written, with the wider range that gives.',
  });
  return 'unseen';
}

const airNames: Readonly<Record<keyof Air, string>> = {
  temperatureC: 'temperature in C',
  humidityPercent: 'relative humidity in %',
  sulphurMg: 'SO2 in mg a square metre a day',
  chlorideMg: 'chloride in mg a square metre a day',
};

/** `air: 9.5 C, 82 %, SO2 4 mg, chloride 12 mg`: first-year rate in open air, µm; null where it cannot be worked out, which is said. */
function airRateOf(meta: Meta, notices: Notice[]): number | null {
  const air = airIn(meta.text);
  const missing = (Object.keys(airNames) as (keyof Air)[]).filter((key) => air[key] === null);
  if (missing.length > 0) {
    notices.push({
      level: 'warning', rule: 'air-incomplete', spot: meta.spot,
      found: `No ${missing.map((key) => airNames[key]).join(', no ')} in "${meta.text}"`,
      expected: 'all four, as in "air: 9.5 C, 82 %, SO2 4 mg, chloride 12 mg"',
      advice: 'Yearly means; until then the words of "kept" and "winter salt" count.',
    });
    return null;
  }
  const whole = air as Air;
  const outside = outsideLimits(whole);
  if (outside.length > 0) {
    notices.push({
      level: 'warning', rule: 'air-outside-limits', spot: meta.spot,
      found: outside.map((key) => `${airNames[key]} of ${numberText(whole[key], 2)}`).join(', '),
      expected: outside.map((key) => `${numberText(airLimits[key][0], 2)} to ${numberText(airLimits[key][1], 2)}`).join(', '),
      advice: 'The dose-response function of ISO 9223 holds within these limits only, so it is not used; the words of "kept" and "winter salt" count.',
    });
    return null;
  }
  return airRateUm(whole);
}

/** The four quantities wherever they stand; a concentration of SO2 in µg a cubic metre is taken times 0.8 (ISO 9223, from memory). */
function airIn(text: string): { [key in keyof Air]: number | null } {
  const sulphur = /\bSO\s?2\b\D{0,12}?(\d+(?:[.,]\d+)?)\s*(µg|μg|ug|mg)?/i.exec(text);
  const chloride = /\b(?:chlorides?|Cl)\b-?\D{0,12}?(\d+(?:[.,]\d+)?)/i.exec(text);
  const rest = text.replace(sulphur?.[0] ?? '\u0000', ' ').replace(chloride?.[0] ?? '\u0000', ' ');
  const celsius = /([-−]?\d+(?:[.,]\d+)?)\s*°?\s*C\b/.exec(rest);
  const fahrenheit = /([-−]?\d+(?:[.,]\d+)?)\s*°?\s*F\b/.exec(rest);
  const humidity = /(\d+(?:[.,]\d+)?)\s*(?:%|per ?cent)/.exec(rest);
  const number = (word: string | undefined): number | null => (word === undefined ? null : Number(word.replace(',', '.').replace('−', '-')));
  const warmth = number(fahrenheit?.[1]);
  const gas = number(sulphur?.[1]);
  return {
    temperatureC: number(celsius?.[1]) ?? (warmth === null ? null : ((warmth - 32) * 5) / 9),
    humidityPercent: number(humidity?.[1]),
    sulphurMg: gas === null ? null : /g$/.test(sulphur?.[2] ?? '') && !/^m/.test(sulphur?.[2] ?? '') ? gas * 0.8 : gas,
    chlorideMg: number(chloride?.[1]),
  };
}
