import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { expect, test } from 'vitest';
import { exposures, zonesOf } from '../../src/model/catalogue.ts';
import { catalogueFaults, spellings } from '../../src/read/catalogue/check.ts';
import { readCatalogue } from '../../src/read/catalogue/index.ts';
import { lexiconOf, matchZone, readNotes } from '../../src/read/notes/index.ts';
import { settingsSchema } from '../../src/model/settings.ts';
import type { Notes } from '../../src/model/notes.ts';
import type { Notice } from '../../src/model/notice.ts';

const content = fileURLToPath(new URL('../../content', import.meta.url));
const catalogue = readCatalogue();
const settings = settingsSchema.parse({});

/** One line read as the findings reader reads it, under a zone of its own. */
function readLine(line: string): { entry: Notes['zones'][number]['entries'][number] | undefined; notices: Notice[] } {
  const text = `# Visit\n\n- seen: 2026-03-14 10:00-11:00, Europe/Dublin\n\n# Roof\n\n- ${line}\n`;
  const { notes, notices } = readNotes({ file: 'findings.md', text, catalogue, settings, photoNames: [] });
  return { entry: notes.zones[0]?.entries[0], notices };
}

const kinds = ['zones', 'parts', 'conditions', 'bodies', 'cautions', 'evidence', 'reasons', 'views', 'works'] as const;

// The lists below are what the trade is agreed to record: common practice, no source.
const zonesOfEveryCar =
  'front-panel headlamp-bowl bonnet front-wing inner-wing chassis-leg subframe bulkhead scuttle windscreen-surround a-post sill floor tunnel floor-rail b-post door rear-door seat-pan rear-arch rear-wing rear-chassis-leg fuel-filler c-post roof rear-screen boot-floor rear-panel boot-lid'.split(' ');
const zonesOfSomeBodies: Record<string, string[]> = {
  convertible: ['hood-well'],
  estate: ['tailgate', 'side-pocket', 'load-floor'],
  van: ['sliding-door-rail', 'step-well', 'load-floor', 'load-door', 'outrigger'],
  pickup: ['ladder-frame', 'frame-crossmember', 'outrigger', 'body-mount', 'cab-corner', 'cab-back', 'bed'],
  'separate-chassis': ['ladder-frame', 'frame-crossmember', 'outrigger', 'body-mount'],
};
const sided =
  'headlamp-bowl front-wing inner-wing chassis-leg a-post sill floor floor-rail b-post c-post door rear-door rear-arch rear-wing rear-chassis-leg'.split(' ');
const structural =
  'inner-wing chassis-leg subframe bulkhead scuttle windscreen-surround a-post sill floor tunnel floor-rail b-post seat-pan rear-arch rear-chassis-leg c-post roof'.split(' ');
const openingKinds = {
  plug: 'blind plug',
  grommet: 'grommet with cable',
  'pipe-grommet': 'grommet with pipe or hose',
  'drain-hole': 'drain hole',
  'drain-slot': 'drain slot',
  'drain-tube': 'drain tube',
  flap: 'one-way flap',
  'access-hole': 'access hole',
  'paint-hole': 'paint-bath hole',
  'fixing-hole': 'fixing hole',
  vent: 'vent',
  'jacking-point': 'jacking point',
  'lamp-seal': 'lamp seal',
  seam: 'seam',
  hem: 'hem',
};
const words: Record<string, string> = {
  plug: 'sound, hardened, cracked, perished, loose, wrong size, cut for an extra cable, sealed over, missing, hole covered up, hole enlarged, in place, ageing',
  drain: 'open, slow, blocked, sealed shut, tube off, tube kinked, blocked by mud, blocked by leaves, blocked by wax, blocked by sealer, blocked by rust',
  'coating inside': 'paint only, wax good, wax thin, wax dried out, bare, oily, underseal lifting',
  'coating outside': 'sound, chipped, blistered, underseal lifting, fresh underseal',
  seam: 'sound, sealer cracked, split, swollen, bleeding rust, re-sealed, hidden',
  metal: 'sound, surface rust, scaling, pitted, thin, gives under the thumb, holed, patched, overlaid, filled, replaced',
  water: 'dry, damp, wet, standing, water line, dry silt',
  repair:
    'film reading, weak magnet, changed sound when tapped, weld line, ripples, overspray, wrong sealer, left and right unlike, sheet gauge unlike new, hole absent',
  seal: 'sound, hardened, cracked, perished, loose, missing, torn',
  hole: 'sound, open, hole enlarged, hole covered up, blocked, missing',
  jacking: 'sound, crushed, holed, patched',
};

test('every file of content is a record of the catalogue', () => {
  for (const kind of kinds) {
    const files = readdirSync(join(content, kind)).map((name) => name.replace(/\.md$/, ''));
    expect(catalogue[kind].map((record) => record.id).sort()).toEqual(files.sort());
  }
});

test('records fit together', () => {
  expect(catalogueFaults(catalogue)).toEqual([]);
});

test('every record says where it comes from', () => {
  for (const kind of kinds) for (const record of catalogue[kind]) expect(record.source, record.id).toMatch(/\w{4}/);
});

test('every zone of the trade is there, sided and structural where it is', () => {
  const zones = new Map(catalogue.zones.map((zone) => [zone.id, zone]));
  for (const id of zonesOfEveryCar) expect(zones.has(id), id).toBe(true);
  expect([...zones.values()].filter((zone) => zone.sided && zonesOfEveryCar.includes(zone.id)).map((zone) => zone.id).sort()).toEqual([...sided].sort());
  expect([...zones.values()].filter((zone) => zone.carries === 'structure' && zonesOfEveryCar.includes(zone.id)).map((zone) => zone.id).sort()).toEqual([...structural].sort());
  expect(zones.get('rear-door')?.rearDoors).toBe(true);
  expect([...zones.values()].filter((zone) => zone.rearDoors)).toHaveLength(1);
});

test('a saloon has the zones of every car and no others', () => {
  const saloon = catalogue.zones.filter((zone) => zone.bodies.includes('saloon')).map((zone) => zone.id);
  expect([...saloon].sort()).toEqual([...zonesOfEveryCar].sort());
});

test('other bodies have zones of their own', () => {
  for (const [body, ids] of Object.entries(zonesOfSomeBodies)) {
    const here = catalogue.zones.filter((zone) => zone.bodies.includes(body)).map((zone) => zone.id);
    expect(here).toEqual(expect.arrayContaining(ids));
    expect(here.length).toBeGreaterThan(20);
  }
});

test('a roof is not expected on a convertible, nor a boot floor on a van', () => {
  const bodies = (id: string): string[] => catalogue.zones.find((zone) => zone.id === id)?.bodies ?? [];
  expect(bodies('roof')).not.toContain('convertible');
  expect(bodies('boot-floor')).not.toContain('van');
});

test('every cavity is fed by an opening, and every exposure is used', () => {
  for (const zone of catalogue.zones) {
    const fed = new Set(zone.openings.map((opening) => opening.cavity));
    expect(zone.cavities.filter((cavity) => !fed.has(cavity.id)).map((cavity) => `${zone.id} ${cavity.id}`)).toEqual([]);
  }
  const used = new Set(catalogue.zones.flatMap((zone) => zone.openings.map((opening) => opening.exposure)));
  expect([...used].sort()).toEqual([...exposures].sort());
});

test('a structural zone has a cavity that carries load', () => {
  for (const zone of catalogue.zones.filter((one) => one.carries === 'structure')) {
    expect(zone.cavities.some((cavity) => cavity.carriesLoad), zone.id).toBe(true);
  }
});

test('every opening kind of the trade is a part under its usual name', () => {
  for (const [id, name] of Object.entries(openingKinds)) {
    const part = catalogue.parts.find((one) => one.id === id);
    expect(part?.type, id).toBe('opening');
    expect(part && spellings(part), id).toContain(name.replaceAll('-', ' '));
  }
});

test('everyday words find their part, and "inside" alone finds none', () => {
  const partOf = (word: string): string[] => catalogue.parts.filter((part) => spellings(part).includes(word)).map((part) => part.id);
  expect(partOf('drain')).toEqual(['drain-hole']);
  expect(partOf('bung')).toEqual(['plug']);
  expect(partOf('blanking grommet')).toEqual(['plug']);
  expect(partOf('loom grommet')).toEqual(['grommet']);
  expect(partOf('weep hole')).toEqual(['drain-hole']);
  expect(partOf('screen rubber')).toEqual(['screen-rubber']);
  for (const word of ['metal inside', 'coating inside', 'metal', 'coating', 'water', 'repair', 'seal']) expect(partOf(word), word).toHaveLength(1);
  expect(partOf('inside')).toEqual([]);
});

test('everyday words find their zone', () => {
  const zoneOf = (word: string): string[] => catalogue.zones.filter((zone) => spellings(zone).includes(word.replaceAll('-', ' '))).map((zone) => zone.id);
  const expected: Record<string, string> = {
    rocker: 'sill', 'rocker panel': 'sill', boot: 'boot-floor', 'trunk floor': 'boot-floor', 'boot floor well': 'boot-floor', 'spare wheel well': 'boot-floor',
    'strut tower': 'inner-wing', 'inner fender': 'inner-wing', 'quarter panel': 'rear-wing', firewall: 'bulkhead', cowl: 'scuttle',
    'headlight bucket': 'headlamp-bowl', 'a-pillar': 'a-post', 'wheel arch': 'rear-arch', 'trunk lid': 'boot-lid', hood: 'bonnet', 'floor pan': 'floor',
  };
  for (const [word, id] of Object.entries(expected)) expect(zoneOf(word), word).toEqual([id]);
});

test('every judgement word of the trade is a condition of its group, exactly once', () => {
  for (const [group, list] of Object.entries(words)) {
    for (const word of list.split(', ')) {
      const found = catalogue.conditions.filter((condition) => condition.for.includes(group) && spellings(condition).includes(word.replaceAll('-', ' ')));
      expect(found.map((condition) => condition.id), `${word} of ${group}`).toHaveLength(1);
    }
  }
});

test('a plug that is only in place is no sound plug', () => {
  // Common practice, no source: it counts as sound only when there, still elastic and held tight.
  expect(catalogue.conditions.find((condition) => condition.id === 'in-place')?.outcome).toBe('cannot tell');
});

test('steel that is through, thin or badly patched weakens, and through is the worst there is', () => {
  const weakening = catalogue.conditions.filter((condition) => condition.weakens).map((condition) => condition.id);
  expect(weakening).toEqual(['crushed', 'filled', 'holed', 'overlaid', 'patched', 'thin']);
  const worst = catalogue.conditions.reduce((a, b) => (b.badness > a.badness ? b : a));
  expect(worst.id).toBe('holed');
});

test('sound is the best of its group and no defect ranks as good', () => {
  for (const condition of catalogue.conditions) {
    if (condition.outcome === 'sound') expect(condition.badness, condition.id).toBeLessThanOrEqual(25);
    if (condition.outcome === 'defect') expect(condition.badness, condition.id).toBeGreaterThanOrEqual(25);
    if (condition.outcome === 'defect') expect(condition.remedy, condition.id).not.toBe('');
  }
});

test('examples are read without a notice, and the worst of their conditions gives the outcome', () => {
  for (const condition of catalogue.conditions) {
    expect(condition.examples.length, condition.id).toBeGreaterThan(0);
    for (const { text, outcome } of condition.examples) {
      const { entry, notices } = readLine(text);
      expect(notices, text).toEqual([]);
      const ids = entry?.type === 'finding' ? entry.conditions : [];
      expect(ids, text).toContain(condition.id);
      const named = catalogue.conditions.filter((one) => ids.includes(one.id));
      expect(named.reduce((a, b) => (b.badness > a.badness ? b : a)).outcome, text).toBe(outcome);
    }
  }
});

test('every spelling of a part is read as that part, singular and plural', () => {
  for (const part of catalogue.parts) {
    for (const word of [...spellings(part), part.plural.gb, part.plural.us]) {
      const { entry } = readLine(`${word}, lower corner: sound`);
      expect(entry?.type === 'finding' && entry.about.part, word).toBe(part.id);
    }
  }
});

test('everyday plurals are counted', () => {
  for (const [word, id] of Object.entries({ plugs: 'plug', bungs: 'plug', grommets: 'grommet', drains: 'drain-hole', slots: 'drain-slot', 'blind plugs': 'plug' })) {
    const { entry } = readLine(`${word}: 2 expected, 1 missing`);
    expect(entry?.type === 'count' && entry.part, word).toBe(id);
  }
});

test('every spelling of a zone is found in a heading, with the side word before or after', () => {
  const lexicon = lexiconOf(catalogue);
  for (const zone of catalogue.zones) {
    for (const word of spellings(zone)) {
      const headings = zone.sided ? [`${word}, left`, `Left ${word}`] : [word];
      for (const heading of headings) {
        const match = matchZone(lexicon, heading);
        expect(match.kind === 'zone' && match.zone.id, heading).toBe(zone.sided ? `${zone.id}-left` : zone.id);
      }
    }
  }
});

test('told, inferred and not seen never count as seen, and grades run from best to worst', () => {
  expect(catalogue.evidence.map((grade) => grade.id)).toEqual(
    ['apart', 'direct', 'camera', 'measured', 'pressed', 'tapped', 'magnet', 'pour', 'inferred', 'told', 'none'],
  );
  expect(catalogue.evidence.filter((grade) => !grade.counts).map((grade) => grade.id)).toEqual(['inferred', 'told', 'none']);
});

test('every reason for not seeing and every view of the insurer’s set is there', () => {
  expect(catalogue.reasons.map((reason) => reason.id)).toEqual(
    ['carpet', 'cover-sill', 'covered-by-trim', 'no-lift', 'no-opening', 'no-permission', 'no-time', 'nothing-written', 'opening-too-small', 'seized', 'too-dark', 'too-dirty', 'underseal', 'unsafe'],
  );
  expect(catalogue.views.map((view) => view.id)).toEqual(
    ['front', 'back', 'left', 'right', 'inside', 'engine-bay', 'mileage', 'registration', 'identity-plate'],
  );
});

test('every caution names a public source and ends by deferring to local codes', () => {
  expect(catalogue.cautions.length).toBeGreaterThanOrEqual(8);
  for (const caution of catalogue.cautions) {
    expect(caution.points.at(-1)).toBe('Follow your local codes, and have it done by people licensed to do it where they require it.');
    expect(caution.source, caution.id).toMatch(/HSE|OSHA|EPA/);
    expect(caution.link, caution.id).toMatch(/^https:\/\/www\.(hse\.gov\.uk|osha\.gov|epa\.gov)\//);
  }
});

test('no record promises what nobody can promise', () => {
  for (const kind of kinds) {
    for (const { also: _, ...printed } of catalogue[kind]) {
      const shown = JSON.stringify(printed).replaceAll('"unsafe"', '').replaceAll('Health and safety', '').replaceAll('Working safely', '');
      expect(shown).not.toMatch(/\b(genuine|authentic|certified|safe|safely|roadworthy)\b/i);
    }
  }
});

test('zones of a car carry the names of both kinds of English', () => {
  const sill = catalogue.zones.find((zone) => zone.id === 'sill');
  expect(sill && zonesOf(sill).map((zone) => [zone.id, zone.name, zone.nameUs])).toEqual([
    ['sill-left', 'Sill, left', 'Rocker, left'],
    ['sill-right', 'Sill, right', 'Rocker, right'],
  ]);
});
