import type { Zone } from '../model/catalogue.ts';
import type { CavityOutlook } from '../model/inspection.ts';
import type { Language } from '../model/wording.ts';
import { inSentence, termIn } from '../model/wording.ts';
import { listText } from '../units.ts';

/** "the inner cell of the sill, which carries load": closed sections inside a sentence. */
export function cavityPhrase(zone: Zone, cavities: readonly CavityOutlook[], language: Language): string {
  const load = cavities.filter((one) => one.carriesLoad);
  const several = cavities.length > 1;
  if (load.length === 0 || load.length === cavities.length) {
    const carry = several || cavities.some((one) => isPlural(one.name)) ? 'carry' : 'carries';
    return `${listText(cavities.map((one) => named(zone, one, language)))}${load.length > 0 ? `, which ${carry} load` : ''}`;
  }
  return listText(cavities.map((one) => `${named(zone, one, language)}${one.carriesLoad ? ` (which ${isPlural(one.name) ? 'carry' : 'carries'} load)` : ''}`));
}

/** The zone is named with the section unless the section's own words say where it is. */
function named(zone: Zone, cavity: CavityOutlook, language: Language): string {
  const name = inSentence(cavity.name);
  const where = inSentence(termIn(zone.record.name, language));
  const said = where.split(/[\s-]+/).some((word) => name.includes(word)) || / the /.test(name);
  return `${/^the\b/.test(name) ? '' : 'the '}${name}${said ? '' : ` of the ${where}`}`;
}

function isPlural(name: string): boolean {
  const [head = ''] = name.split(/ (?:of|under|behind|between|inside|round|above|along|in) /);
  return /s$/.test(head) || / and /.test(head);
}
