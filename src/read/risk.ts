import { distance } from 'fastest-levenshtein';
import type { Notice } from '../model/notice.ts';
import type { RiskMixture, RiskModel, RiskValue } from '../model/risk.ts';
import { assumptionsOf, numbersFault, numbersOf } from '../model/risk.ts';
import type { Settings } from '../model/settings.ts';
import { spotOfKey } from './settings.ts';

/**
 * The shared risk model with what `risk` of `sillbook.json` puts in its place. A value that cannot be used is an error: the
 * outlook would rest on a guess. `text` is the settings file, for the places of notices.
 */
export function jobRisk(model: RiskModel, settings: Settings, text: string): { risk: RiskModel; notices: Notice[] } {
  const given = Object.entries(settings.risk ?? {});
  const notices: Notice[] = [];
  const known = new Map(assumptionsOf(model).map((one) => [one.id, one]));
  const usable = new Map<string, number[]>();
  for (const [id, numbers] of given) {
    const one = known.get(id);
    const fault = one === undefined ? '' : numbersFault(one, numbers);
    if (one === undefined) notices.push(unknown(id, [...known.keys()], text));
    else if (fault !== '') notices.push(unclear(one, numbers, fault, text));
    else usable.set(id, numbers);
  }
  if (usable.size === 0) return { risk: model, notices };
  const changed = assumptionsOf(model).filter((one) => differs(usable.get(one.id), numbersOf(one))).map((one) => ({ id: one.id, was: numbersOf(one) }));
  return {
    risk: {
      ...model,
      changed,
      values: model.values.map((value): RiskValue => {
        const [low = value.low, likely = value.likely, high = value.high] = usable.get(value.id) ?? [];
        return usable.has(value.id) ? { ...value, low, likely, high, source: 'set by this job' } : value;
      }),
      mixtures: model.mixtures.map((mixture): RiskMixture => (usable.has(mixture.id) ? { ...mixture, shares: usable.get(mixture.id) ?? mixture.shares, source: 'set by this job' } : mixture)),
    },
    notices,
  };
}

function differs(given: readonly number[] | undefined, before: readonly number[]): boolean {
  return given !== undefined && given.some((number, index) => number !== before[index]);
}

function unknown(id: string, known: readonly string[], text: string): Notice {
  const near = known.filter((one) => distance(one, id) <= 3).sort((a, b) => distance(a, id) - distance(b, id))[0];
  return {
    level: 'warning', rule: 'assumption-unknown', spot: spotOfKey(text, id),
    found: `Unexpected "${id}" under "risk"`,
    expected: 'the id of an assumption in content/risk-model.md, such as "pit-factor"',
    advice: near ? `Did you mean "${near}"? It has no effect until then.` : 'It has no effect.',
  };
}

function unclear(one: RiskValue | RiskMixture, numbers: readonly number[], fault: string, text: string): Notice {
  return {
    level: 'error', rule: 'assumption-unclear', spot: spotOfKey(text, one.id),
    found: `${JSON.stringify(numbers)} for "${one.id}": ${fault}`,
    expected: 'shares' in one ? `one share for each of ${one.states.join(', ')}, together 1` : 'three rising numbers: low, likely, high',
    advice: 'Mend the numbers; the outlook would be wrong with a guess.',
  };
}
