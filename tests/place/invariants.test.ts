import fc from 'fast-check';
import { expect, test } from 'vitest';
import { zonesOf } from '../../src/model/catalogue.ts';
import type { Inspection } from '../../src/model/inspection.ts';
import type { Entry, Finding, ZoneNotes } from '../../src/model/notes.ts';
import type { Photo } from '../../src/model/photo.ts';
import { place } from '../../src/place/index.ts';
import { about, catalogueOf, count, finding, jobOf, mounting, notFitted, notSeen, photo, photoName, photoOnly, remark, spot, told, zoneNotes } from './builders.ts';

const catalogue = catalogueOf();
const zoneIds = catalogue.zones.flatMap(zonesOf).map(({ id }) => id);
const subjects = ['plug', 'plug, inner face', 'plug, inner face 1', 'plug, inner face 2', 'plug, floor 1', 'end-cap', 'end-cap, front', 'drain-slot', 'vent, rear', 'metal-inside, middle', 'water', 'gizmo'];
const conditions = ['sound', 'in-place', 'loose', 'cracked', 'missing', 'wobbly'];
const photoNames = ['IMG_1', 'IMG_2.jpg', 'IMG_1-3', 'x/IMG_4', 'IMG_4', '../IMG_5', 'gone', 'img_2'];

const subject = fc.constantFrom(...subjects);
const names = fc.array(fc.constantFrom(...photoNames).map((name) => photoName(name)), { maxLength: 2 });
const looked = fc.constantFrom('direct', 'camera', 'inferred', 'told').map((evidence) => ({ evidence, through: null, assumed: false }));
const origin = fc.constantFrom<Finding['origin']>({ kind: 'fact' }, { kind: 'fact' }, { kind: 'opinion' }, told());

const anyFinding = fc
  .record({ text: subject, said: fc.uniqueArray(fc.constantFrom(...conditions), { maxLength: 2 }), photos: names, looked, origin })
  .map(({ text, said, ...given }) => ({ ...finding(text, given), conditions: said }));
const anyCount = fc
  .record({ of: fc.constantFrom('plug', 'plug, inner face', 'end-cap', 'water'), expected: fc.option(fc.nat(6)), sound: fc.nat(3), missing: fc.nat(2), 'not seen': fc.nat(1), 'not fitted': fc.nat(1) })
  .map(({ of, expected, ...counts }) => count(of, expected, counts));
const anyNotSeen = fc.oneof(subject.map((text) => notSeen(text, { about: about(text) })), fc.constantFrom('', 'rear third').map((what) => notSeen(what)));
const anyNotFitted = fc.oneof(subject.map((text) => notFitted(text, { about: about(text) })), fc.constant(notFitted('all')));
const anyOther = fc.oneof(names.map((photos) => remark('words', { photos })), fc.constantFrom(...photoNames).map((name) => photoOnly(name)), fc.nat(600).map(mounting));
const anyEntry: fc.Arbitrary<Entry> = fc.oneof({ arbitrary: anyFinding, weight: 5 }, anyCount, anyNotSeen, anyNotFitted, anyOther);

/** Notes with lines numbered as a file has them. */
function notesFrom(entry: fc.Arbitrary<Entry>): fc.Arbitrary<ZoneNotes[]> {
  const zone = fc.record({ id: fc.constantFrom(...zoneIds, null), entries: fc.array(entry, { maxLength: 6 }), from: fc.constantFrom(null, '10:00', '10:30') });
  return fc.array(zone, { maxLength: 5 }).map((zones) => {
    let line = 0;
    return zones.map(({ id, entries, from }) => {
      const heading = { text: id ?? 'Somewhere', spot: spot((line += 1)) };
      return zoneNotes(id, entries.map((one) => ({ ...one, spot: spot((line += 1)) })), { heading, from });
    });
  });
}

const anyNotes = notesFrom(anyEntry);
const anyPhotos: fc.Arbitrary<Photo[]> = fc.subarray(['IMG_1.jpg', 'IMG_2.jpg', 'IMG_3.jpg', 'x/IMG_4.jpg', 'y/IMG_4.jpg', 'sill left/a.jpg', 'boot floor 1.jpg', 'z.jpg']).chain((paths) =>
  fc.tuple(...paths.map((path) => fc.option(fc.integer({ min: 10, max: 59 })).map((minute) => photo(path, minute === null ? null : `2026-03-14T10:${minute}:00`)))),
);

function holds(check: (inspection: Inspection, notes: ZoneNotes[]) => void): void {
  fc.assert(fc.property(anyNotes, anyPhotos, (notes, photos) => check(place(jobOf(notes, { photos, catalogue })), notes)), { numRuns: 300 });
}

test('every line of every zone is in the inspection once', () => {
  holds((inspection, notes) => {
    const rows = inspection.zones.flatMap((zone) => zone.rows.flatMap((row) => row.findings));
    const observed = inspection.zones.flatMap((zone) => zone.observations.map((one) => one.finding));
    const remarks = inspection.zones.flatMap((zone) => zone.remarks.map(({ entry }) => entry.spot.line));
    for (const { zone, entries } of notes) {
      for (const entry of entries) {
        if (zone === null) expect(inspection.unplacedNotes.filter(({ texts }) => texts.includes(entry.text)).length).toBeGreaterThan(0);
        else if (entry.type === 'finding') {
          const known = catalogue.parts.some(({ id }) => id === entry.about.part);
          expect([...rows, ...observed].filter((one) => one === entry)).toHaveLength(known ? 1 : 0);
          expect(remarks.filter((line) => line === entry.spot.line)).toHaveLength(known ? 0 : 1);
        } else if (entry.type === 'not seen') expect(inspection.zones.flatMap((one) => one.notSeen).filter((one) => one.entry === entry)).toHaveLength(1);
        else if (entry.type === 'not fitted') expect(inspection.zones.flatMap((one) => one.notFitted).filter((one) => one === entry)).toHaveLength(1);
        else if (entry.type === 'remark') expect(remarks.filter((line) => line === entry.spot.line)).toHaveLength(1);
      }
    }
  });
});

test('every zone of the body and every zone written about is there once', () => {
  holds((inspection, notes) => {
    const ids = inspection.zones.map(({ zone }) => zone.id);
    expect(new Set(ids).size).toBe(ids.length);
    expect(ids).toEqual(expect.arrayContaining(['sill-left', 'sill-right', 'boot-floor', ...notes.flatMap(({ zone }) => zone ?? [])]));
  });
});

test('every expected opening is one row of its kind, or answered by named or counted ones', () => {
  holds((inspection) => {
    for (const { zone, rows } of inspection.zones) {
      for (const kind of zone.record.openings) {
        const ofPart = rows.filter(({ part }) => part.id === kind.part);
        const alone = ofPart.filter(({ known, place: where, reason }) => known === 'kind' && where === kind.place && reason !== '');
        expect(alone.length).toBeLessThanOrEqual(1);
        if (alone.length === 0) expect(ofPart.some(({ known }) => known !== 'kind')).toBe(true);
      }
    }
  });
});

test('anchors of rows and observations are unique', () => {
  holds((inspection) => {
    const ids = inspection.zones.flatMap((zone) => [...zone.rows, ...zone.observations].map(({ id }) => id));
    expect(new Set(ids).size).toBe(ids.length);
  });
});

test('every photo is there once, with a reason, and in the zones it says', () => {
  holds((inspection) => {
    expect(inspection.photos.map(({ photo: one }) => one)).toEqual(inspection.job.photos);
    for (const { photo: one, zones, reason } of inspection.photos) {
      expect(reason).not.toBe('');
      expect(inspection.zones.filter(({ photos }) => photos.includes(one.id)).map(({ zone }) => zone.id).sort()).toEqual([...zones].sort());
    }
  });
});

test('rows that were not seen have a reason and no condition, and no zone with one is sound', () => {
  holds((inspection) => {
    for (const { rows, state } of inspection.zones) {
      for (const row of rows.filter((one) => !one.seen)) {
        expect(row.conditions).toEqual([]);
        expect(['not seen', 'not fitted']).toContain(row.outcome);
        expect(row.reason).not.toBe('');
      }
      if (rows.some(({ outcome }) => outcome === 'not seen')) expect(state).not.toBe('sound');
    }
  });
});

test('the order of the zones in the notes changes nothing but the notes themselves', () => {
  fc.assert(
    fc.property(anyNotes, anyPhotos, (notes, photos) => {
      const of = (list: ZoneNotes[]): unknown => {
        const { zones, photos: placed, coverage } = place(jobOf(list, { photos, catalogue }));
        return { zones, coverage, placed: placed.map(({ zones: ids, rule }) => [ids, rule]) };
      };
      expect(of([...notes].reverse())).toEqual(of(notes));
    }),
    { numRuns: 200 },
  );
});

/** Findings alone, each place once where it is counted: there a merged row could match a count with one line and not with the other. */
const withFindings = notesFrom(fc.oneof({ arbitrary: anyFinding, weight: 5 }, anyNotSeen, anyOther));

test('taking a finding away never raises what was seen', () => {
  fc.assert(
    fc.property(withFindings, fc.nat(), fc.nat(), (notes, zoneAt, entryAt) => {
      const target = notes[zoneAt % Math.max(notes.length, 1)];
      if (!target || target.entries.length === 0) return;
      const at = entryAt % target.entries.length;
      if (target.entries[at]?.type !== 'finding') return;
      const less = notes.map((one) => (one === target ? { ...one, entries: one.entries.filter((_entry, index) => index !== at) } : one));
      const seen = (list: ZoneNotes[]): number => place(jobOf(list, { catalogue })).coverage.seen;
      expect(seen(less)).toBeLessThanOrEqual(seen(notes));
    }),
    { numRuns: 300 },
  );
});

test('taking a finding away never raises what was seen, beside counts', () => {
  const places = fc.uniqueArray(anyFinding, { maxLength: 5, selector: (one) => `${one.about.part} ${one.about.place}` });
  fc.assert(
    fc.property(places, fc.array(anyCount, { maxLength: 3 }), fc.nat(), (findings, counts, at) => {
      const seen = (list: Finding[]): number => place(jobOf([zoneNotes('sill-left', [...list, ...counts])], { catalogue })).coverage.seen;
      expect(seen(findings.filter((_one, index) => index !== at % Math.max(findings.length, 1)))).toBeLessThanOrEqual(seen(findings));
    }),
    { numRuns: 300 },
  );
});

test('what is told or inferred never raises what was seen', () => {
  const hearsay = fc.oneof(anyFinding.map((one) => ({ ...one, origin: told() })), anyFinding.map((one) => ({ ...one, looked: { evidence: 'inferred', through: null, assumed: false } })));
  fc.assert(
    fc.property(anyNotes, hearsay, fc.constantFrom(...zoneIds), (notes, extra, id) => {
      const last = zoneNotes(id, [{ ...extra, spot: spot(999) }], { heading: { text: id, spot: spot(998) } });
      const seen = (list: ZoneNotes[]): number => place(jobOf(list, { catalogue })).coverage.seen;
      expect(seen([...notes, last])).toBe(seen(notes));
    }),
    { numRuns: 300 },
  );
});
