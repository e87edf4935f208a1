import type { Body, Catalogue, Condition, Evidence, Exposure, Part, View, ZoneRecord } from '../../src/model/catalogue.ts';
import type { Job } from '../../src/model/job.ts';
import type { About, Count, Entry, Finding, Meta, Mounting, NotFitted, NotSeen, Notes, Origin, PhotoName, PhotoOnly, Remark, ZoneNotes } from '../../src/model/notes.ts';
import type { Spot } from '../../src/model/notice.ts';
import type { Photo, TakenAt } from '../../src/model/photo.ts';
import { noRates } from '../../src/model/rates.ts';

const source = 'test';
const also: string[] = [];

function term(gb: string, us: string = gb): { gb: string; us: string } {
  return { gb, us };
}

export function part(id: string, group: string, type: Part['type'] = 'opening', gb: string = id.replaceAll('-', ' ')): Part {
  return { id, name: term(gb), also, source, type, group, plural: term(`${gb}s`), meaning: '' };
}

export function condition(id: string, outcome: Condition['outcome'], badness: number): Condition {
  return { id, name: term(id.replaceAll('-', ' ')), also, source, for: ['plug', 'drain', 'metal'], outcome, badness, weakens: false, newPart: false, meaning: '', remedy: '', cautions: [], examples: [] };
}

export function opening(partId: string, place: string, exposure: Exposure = 'road spray', cavity = 'box'): ZoneRecord['openings'][number] {
  return { part: partId, place, exposure, cavity };
}

export function cavity(id: string, carriesLoad = false): ZoneRecord['cavities'][number] {
  return { id, name: id, walls: ['wall'], sheetMm: 1, areaM2: 1, carriesLoad, replaceHours: [1, 2, 3] };
}

export function zone(id: string, given: Partial<ZoneRecord> = {}): ZoneRecord {
  const name = id.charAt(0).toUpperCase() + id.slice(1).replaceAll('-', ' ');
  return {
    id, name: term(name), also, source, order: 10, sided: false, carries: 'nothing', mountings: [], bodies: ['saloon', 'van'], rearDoors: false,
    waterIn: '', waterOut: '', lookAt: ['it'], cautions: [], openings: [opening('drain-slot', '')], cavities: [cavity('box')], ...given,
  };
}

function evidence(id: string, name: string, grade: number, counts: boolean): Evidence {
  return { id, name: term(name), also, source, grade, counts };
}

/** A small trade: a sill with two cells, a boot floor, a rear door, a step of vans. */
export function catalogueOf(given: Partial<Catalogue> = {}): Catalogue {
  const bodies: Body[] = ['saloon', 'van', 'convertible'].map((id) => ({ id, name: term(id), also: id === 'saloon' ? ['sedan'] : [], source, notes: [] }));
  const views: View[] = ['front', 'back', 'mileage'].map((id, order) => ({ id, name: term(id), also, source, order }));
  return {
    zones: [
      zone('sill', {
        name: term('Sill', 'Rocker'), also: ['rocker panel'], order: 20, sided: true, carries: 'structure',
        openings: [
          opening('plug', 'inner face', 'indoors', 'inner-cell'),
          opening('drain-slot', 'bottom seam', 'road spray', 'outer-cell'),
          opening('end-cap', 'front', 'wheel spray', 'outer-cell'),
          opening('end-cap', 'rear', 'wheel spray', 'inner-cell'),
        ],
        cavities: [cavity('outer-cell', true), cavity('inner-cell', true)],
      }),
      zone('boot-floor', { order: 40, carries: 'part', openings: [opening('plug', 'floor'), opening('drain-slot', '')], cavities: [cavity('well')] }),
      zone('rear-door', { order: 30, sided: true, rearDoors: true }),
      zone('step', { order: 50, bodies: ['van'] }),
    ],
    parts: [
      part('plug', 'plug', 'opening', 'blind plug'), part('drain-slot', 'drain'), part('end-cap', 'plug'), part('vent', 'drain'),
      part('metal-inside', 'metal', 'metal'), part('water', 'metal', 'water'),
    ],
    conditions: [
      condition('sound', 'sound', 0), condition('in-place', 'cannot tell', 20), condition('loose', 'defect', 50), condition('cracked', 'defect', 60),
      condition('missing', 'defect', 90), condition('blocked', 'defect', 80), condition('scaling', 'defect', 40),
    ],
    bodies,
    cautions: [],
    evidence: [evidence('camera', 'inspection camera', 3, true), evidence('direct', 'seen directly', 2, true), evidence('inferred', 'inferred from neighbours', 9, false), evidence('told', 'told by someone', 10, false)],
    reasons: [{ id: 'carpet', name: term('covered by carpet'), also, source, toSee: 'lift the carpet' }],
    views,
    works: [],
    materials: [], risk: { version: '0', values: [], mixtures: [], changed: [] },
    ...given,
  };
}

export function spot(line = 1): Spot {
  return { file: 'findings.md', line };
}

export const fact: Origin = { kind: 'fact' };

export function told(by = 'seller'): Origin {
  return { kind: 'told', by };
}

export function photoName(text: string, line = 1, alt = ''): PhotoName {
  return { text, alt, spot: spot(line) };
}

interface Base {
  text: string;
  spot: Spot;
  origin: Origin;
  photos: PhotoName[];
  words: string;
}

function base(text: string, line: number): Base {
  return { text, spot: spot(line), origin: fact, photos: [], words: '' };
}

export function about(text: string): About {
  const [partId = '', ...place] = text.split(', ');
  return { part: partId, place: place.join(', '), size: null, cable: null, exposure: null };
}

/** `finding('plug, inner face 1: cracked, loose')`; ids of part and conditions. */
export function finding(text: string, given: Partial<Finding> = {}, line = 1): Finding {
  const [subject = '', words = ''] = text.split(': ');
  const conditions = words === '' ? [] : words.split(', ');
  return {
    ...base(text, line), type: 'finding', about: about(subject), conditions, details: [], looked: { evidence: 'direct', through: null, assumed: true },
    was: null, marks: [], work: [], ...given,
  };
}

/** `count('plug', 4, { sound: 1, missing: 2 })`. */
export function count(subject: string, expected: number | null, counts: Record<string, number> = {}, given: Partial<Count> = {}): Count {
  const { part: partId, place } = about(subject);
  const list = Object.entries(counts).map(([id, times]) => ({ condition: id, count: times }));
  return { ...base(`${subject}s: ${expected}`, 1), type: 'count', part: partId, place, expected, counts: list, looked: { evidence: 'direct', through: null, assumed: true }, ...given };
}

export function notSeen(what: string, given: Partial<NotSeen> = {}): NotSeen {
  return { ...base(`not seen: ${what}`, 1), type: 'not seen', what, about: null, reason: null, reasonWords: '', toSee: '', hours: null, ...given };
}

export function notFitted(what: string, given: Partial<NotFitted> = {}): NotFitted {
  return { ...base(`not fitted: ${what}`, 1), type: 'not fitted', what, about: null, ...given };
}

export function mounting(distanceMm: number): Mounting {
  return { ...base(`mounting: ${distanceMm} mm from seat-belt bolt`, 1), type: 'mounting', distanceMm, of: 'seat-belt bolt' };
}

export function remark(text: string, given: Partial<Remark> = {}): Remark {
  return { ...base(text, 1), words: text, type: 'remark', ...given };
}

export function photoOnly(name: string, given: Partial<PhotoOnly> = {}): PhotoOnly {
  return { ...base('', 1), type: 'photo', photos: [photoName(name)], marks: [], ...given };
}

export function zoneNotes(id: string | null, entries: Entry[], given: Partial<ZoneNotes> = {}): ZoneNotes {
  return { heading: { text: id ?? 'Somewhere', spot: spot(1) }, zone: id, from: null, entries, narrative: [], ...given };
}

export function meta(key: string, text: string): Meta {
  return { key, text, spot: spot(2) };
}

export function notesOf(zones: ZoneNotes[], given: Partial<Notes> = {}): Notes {
  return { file: 'findings.md', car: [meta('body', 'saloon')], visit: [], rates: [], seen: null, clocks: [], views: [], zones, preamble: [], ...given };
}

/** A photo taken at a local time such as `2026-03-14T10:12:00`. */
export function photo(path: string, local: string | null = null, given: Partial<Photo> = {}): Photo {
  const name = path.slice(path.lastIndexOf('/') + 1);
  const takenAt: TakenAt | null = local === null ? null : { local, offset: null, instant: null, from: 'exif', offsetFrom: null, asWritten: local, corrected: null };
  return {
    id: path.toLowerCase().replace(/[^a-z0-9]+/g, '-'), path, name, bytes: 1, sha256: '', format: 'jpeg', make: null, model: null, orientation: 1, takenAt,
    keywords: [], editors: [], hasPosition: false,
    exif: { dateTimeOriginal: null, subSecTimeOriginal: null, offsetTimeOriginal: null, modifyDate: null, software: null, gpsLatitude: null, gpsLongitude: null, gpsDate: null, gpsTime: null },
    ...given,
  };
}

export function jobOf(zones: ZoneNotes[], given: { notes?: Partial<Notes>; photos?: Photo[]; catalogue?: Catalogue } = {}): Job {
  return {
    catalogue: given.catalogue ?? catalogueOf(),
    settings: { units: 'mm', language: 'en-GB' },
    notes: notesOf(zones, given.notes),
    rates: noRates,
    photos: given.photos ?? [],
    notices: [],
  };
}
