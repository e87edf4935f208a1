import type { DossierOutlook } from '../model/dossier-outlook.ts';
import type { CavityOutlook, Outlook } from '../model/inspection.ts';
import type { Prospect, Range } from '../model/outlook.ts';
import type { RiskModel } from '../model/risk.ts';
import { likelihoodText } from '../units.ts';
import { hasUnseen } from './outlook.ts';

/** The outlook as data, rounded so that the last digits of a logarithm, which may differ from machine to machine, do not show. */
export function outlookData(outlook: Outlook, risk: RiskModel): DossierOutlook {
  const { car } = outlook;
  return {
    model: outlook.model,
    changed: risk.changed,
    surroundings: { kept: car.surroundings.kept, winterSalt: car.surroundings.salt, airRateUm: car.surroundings.air === null ? null : round(car.surroundings.air.rateUm) },
    sections: outlook.cavities.map(sectionData),
    expectedHours: { alike: rounded(car.hours.alike, 2), apart: rounded(car.hours.apart, 2), owedToUnseen: car.hoursShare === null ? null : round(car.hoursShare) },
    looks: car.looks.map((look) => ({
      zone: look.zone, section: look.cavity, hours: look.hours.likely, hoursAssumed: look.assumed, toSee: look.toSee,
      narrowsHours: round(look.shrinksHours, 2), narrowsPerHour: round(look.perHour, 2),
    })),
  };
}

function sectionData(cavity: CavityOutlook): DossierOutlook['sections'][number] {
  const { weighed, share } = cavity;
  const unseen = hasUnseen(cavity);
  const { low, middle, high } = weighed.leftUm;
  return {
    zone: cavity.zone,
    section: cavity.cavity,
    name: cavity.name,
    carriesLoad: cavity.carriesLoad,
    insideSeen: cavity.insideSeen,
    measuredMm: cavity.measuredMm,
    sheetMm: cavity.sheetMm,
    waterGetsIn: rounded(weighed.water, 4),
    leftMm: rounded({ low: low / 1000, middle: middle / 1000, high: high / 1000 }, 3),
    left: prospectData(weighed.left, unseen),
    done: weighed.done === null ? null : prospectData(weighed.done, unseen),
    work: cavity.work,
    owedToUnseen: { chance: share.chance === null ? null : round(share.chance), years: share.years === null ? null : round(share.years) },
  };
}

function prospectData({ chances, years, today }: Prospect, unseen: boolean): DossierOutlook['sections'][number]['left'] {
  const whole = (value: number | null): number | null => (value === null ? null : round(value, 1));
  return {
    chances: chances.map((chance) => ({ years: chance.years, ...rounded(chance, 4), best: round(chance.best), worst: round(chance.worst), words: likelihoodText(chance, unseen) })),
    years: { low: whole(years.low), middle: whole(years.middle), high: whole(years.high) },
    throughToday: round(today),
  };
}

function rounded({ low, middle, high }: Range, digits: number): Range {
  return { low: round(low, digits), middle: round(middle, digits), high: round(high, digits) };
}

function round(value: number, digits = 4): number {
  return Number(value.toFixed(digits));
}
