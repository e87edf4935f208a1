import type { Zone } from '../model/catalogue.ts';
import type { Observation } from '../model/inspection.ts';
import type { Entry, Finding, Mounting } from '../model/notes.ts';
import type { Notice } from '../model/notice.ts';
import { partText, placeForm } from '../model/wording.ts';
import { contradictionOf } from './contradictions.ts';
import type { RegisterTools } from './drafts.ts';
import type { Mountings } from './mountings.ts';
import { isNear, nearestOf } from './mountings.ts';
import { anchorOf } from '../model/anchor-names.ts';
import { verdictOf } from './verdict.ts';

/** Every finding of a zone that is about no opening: metal, coating, water, earlier repair. In the order written. */
export function observationsOf(
  tools: RegisterTools,
  entries: readonly Entry[],
  mountings: Mountings,
  once: (wanted: string) => string,
): { observations: Observation[]; notices: Notice[] } {
  const nearZone = mountings.ofZone.some((mounting) => isNear(mounting.distanceMm));
  const places = new Map<string, { name: string; findings: Finding[] }>();
  const observations: Observation[] = [];
  for (const finding of entries) {
    if (finding.type !== 'finding') continue;
    const part = tools.catalogue.parts.find((one) => one.id === finding.about.part);
    if (!part || part.type === 'opening') continue;
    const place = placeForm(finding.about.place);
    const slug = anchorOf(place);
    const mounting = nearestOf(mountings.of.get(finding) ?? []);
    observations.push({
      id: once([tools.zone.id, part.id, ...(slug === '' ? [] : [slug])].join('--')),
      zone: tools.zone.id,
      part,
      outcome: verdictOf(tools, finding).outcome,
      finding,
      photos: tools.photoIdsOf(finding.photos),
      structure: nearZone || (mounting?.near ?? false) || carriesLoad(tools.zone, place),
      mounting,
    });
    const known = places.get(`${part.id}|${place}`) ?? { name: partText(part, place, tools.language), findings: [] };
    known.findings.push(finding);
    places.set(`${part.id}|${place}`, known);
  }
  const notices = [...places.values()].flatMap(({ name, findings }) => contradictionOf(tools, name, findings) ?? []);
  return { observations, notices };
}

/** Structure where the zone is; in a zone that is so in part, where the cavity the place names is, or any where it names none. */
function carriesLoad(zone: Zone, place: string): boolean {
  const { carries, cavities } = zone.record;
  if (carries === 'structure') return true;
  const named = cavities.filter(({ id, name }) => place !== '' && [id.replaceAll('-', ' '), name.toLowerCase()].some((word) => place.includes(word)));
  return (named.length > 0 ? named : cavities).some((cavity) => cavity.carriesLoad);
}

/** A mounting written under a finding, kept where it is not the nearest of that finding. */
export function isFarther(mountings: Mountings, mounting: Mounting): boolean {
  return [...mountings.of.values()].some((list) => list.includes(mounting) && list.some((other) => other.distanceMm < mounting.distanceMm));
}
