import { curvesOf } from './curves.ts';
import type { Memory } from './curves.ts';
import type { Draws } from './judgements.ts';
import { settingOf } from './setting.ts';
import type { Setting, Unseen, Work } from './setting.ts';
import { steelOf } from './steel.ts';
import type { Steel } from './steel.ts';
import { metalStates } from './states.ts';
import type { SectionInput } from './states.ts';
import { horizons } from './through.ts';

/** What one outer draw makes of a section. */
export interface DrawnSection {
  /** Chance that water gets in. */
  water: number;
  /** Chance that some place is through today. */
  today: number;
  /** At `horizons`. */
  through: Float64Array;
  /** Steel of each place today. */
  steels: Steel[];
  /** Share of the inner draws that agree with what was seen. */
  agree: number;
}

/** One section in one outer draw: the worst of its places rules. */
export function drawSection(draws: Draws, draw: number, section: SectionInput, work: Work, unseen: Unseen, memory: Memory): DrawnSection {
  const setting = settingOf(draws, draw, section, work, unseen);
  const steels = section.places.map((place) => steelOf(setting, place));
  const through = new Float64Array(horizons.length);
  if (steels.some(isThrough)) return { water: setting.water, today: 1, through: through.fill(1), steels, agree: 1 };
  let agree = 1;
  for (const [index, place] of section.places.entries()) {
    const steel = steels[index] as Steel;
    const water = waterAt(setting, steel);
    const { wet, dry, wetAgree, dryAgree } = curvesOf(setting, place, steel, memory);
    agree = Math.min(agree, dryAgree + water * (wetAgree - dryAgree));
    for (let at = 0; at < through.length; at += 1) through[at] = Math.max(through[at] as number, mixed(wet[at] as number, dry[at] as number, water));
  }
  return { water: setting.water, today: 0, through, steels, agree };
}

/** The chance at one horizon only, by its place among `horizons`: what looks are worked out with. */
export function drawChance(draws: Draws, draw: number, section: SectionInput, work: Work, unseen: Unseen, memory: Memory, at: number): number {
  const setting = settingOf(draws, draw, section, work, unseen);
  let chance = 0;
  for (const place of section.places) {
    const steel = steelOf(setting, place);
    if (isThrough(steel)) return 1;
    const { wet, dry } = curvesOf(setting, place, steel, memory);
    chance = Math.max(chance, mixed(wet[at] as number, dry[at] as number, waterAt(setting, steel)));
  }
  return chance;
}

function isThrough({ leftUm }: Steel): boolean {
  return leftUm === 0;
}

/** Steel that is scaling or worse was wet for years: water gets in at least that likely, until what lets it in is mended. */
function waterAt({ judgement, section, work, water }: Setting, { metal, renewed }: Steel): number {
  const eaten = metalStates.indexOf(metal) >= metalStates.indexOf('scaling');
  const mended = work === 'done' && section.openings.some((opening) => opening.mended);
  return eaten && !renewed && !mended ? Math.max(water, judgement.water.rust) : water;
}

/** Over water in and out, by the chance that it gets in. */
function mixed(wet: number, dry: number, water: number): number {
  return dry + water * (wet - dry);
}
