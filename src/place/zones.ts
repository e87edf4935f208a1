import { distance } from 'fastest-levenshtein';
import type { Body, Catalogue, Zone } from '../model/catalogue.ts';
import { sides, zonesOf } from '../model/catalogue.ts';
import type { Meta, Notes } from '../model/notes.ts';
import type { Notice } from '../model/notice.ts';
import { plainWords } from '../model/zone-names.ts';
import { byCodeUnit } from '../model/order.ts';

/** Body taken where none is written or recognised. */
const usualBody = 'saloon';

/** The body of the car, and what is to be said about how it was found. */
export function bodyOf(catalogue: Catalogue, notes: Notes): { body: Body | null; notices: Notice[] } {
  const written = notes.car.find((meta) => meta.key === 'body' && meta.text.trim() !== '');
  const usual = catalogue.bodies.find((body) => body.id === usualBody) ?? null;
  const taken = usual ? `The zones of a ${usual.name.gb.toLowerCase()} are taken.` : 'All zones are taken.';
  if (written) {
    const body = bodyNamed(catalogue, written.text);
    return body ? { body, notices: [] } : { body: usual, notices: [unknownBody(catalogue, written, taken)] };
  }
  const car = notes.car.find((meta) => meta.key === 'car');
  const guessed = car ? bodyNamed(catalogue, car.text) : null;
  const found = 'No "body:" under "# Car"';
  const spot = car?.spot ?? { file: notes.file };
  const expected = `one of ${bodyList(catalogue)}`;
  if (!guessed) {
    const advice = `${taken} Write the type of body, so that its own zones are expected.`;
    return { body: usual, notices: [{ level: 'warning', rule: 'body-missing', spot, found, expected, advice }] };
  }
  const advice = `The zones of a ${guessed.name.gb.toLowerCase()} are taken, as "car:" says. Write "body:" to be sure.`;
  return { body: guessed, notices: [{ level: 'note', rule: 'body-missing', spot, found, expected, advice }] };
}

function bodyList(catalogue: Catalogue): string {
  return catalogue.bodies.map((body) => body.name.gb.toLowerCase()).join(', ');
}

function spellingsOf(body: Body): string[] {
  return [body.id, body.name.gb, body.name.us, ...body.also].map(plainWords).filter((words) => words !== '');
}

/** The body whose name the words are, else the one with the longest name among the words. */
function bodyNamed(catalogue: Catalogue, text: string): Body | null {
  const words = plainWords(text);
  const exact = catalogue.bodies.find((body) => spellingsOf(body).includes(words));
  if (exact) return exact;
  let best: { body: Body; length: number } | null = null;
  for (const body of catalogue.bodies) {
    for (const name of spellingsOf(body)) {
      if (` ${words} `.includes(` ${name} `) && name.length > (best?.length ?? 0)) best = { body, length: name.length };
    }
  }
  return best?.body ?? null;
}

function unknownBody(catalogue: Catalogue, written: Meta, taken: string): Notice {
  const words = plainWords(written.text);
  const near = catalogue.bodies
    .flatMap((body) => spellingsOf(body).map((name) => ({ name, away: distance(words, name) })))
    .sort((a, b) => a.away - b.away || byCodeUnit(a.name, b.name))[0];
  const hint = near && near.away <= 3 ? ` Did you mean "${near.name}"?` : '';
  return {
    level: 'warning',
    rule: 'body-unknown',
    spot: written.spot,
    found: `Unexpected body "${written.text}"`,
    expected: `one of ${bodyList(catalogue)}`,
    advice: `${taken}${hint}`,
  };
}

/**
 * The zones of the car, front to rear, left before right: those expected on its body, and those that are `mentioned`,
 * by a heading or by where a photo stands. Zones of rear doors are expected where the car is said to have them.
 */
export function carZones(catalogue: Catalogue, notes: Notes, body: Body | null, mentioned: ReadonlySet<string>): Zone[] {
  const rear = saysRearDoors(notes);
  const zones = catalogue.zones.flatMap((record) => {
    const both = zonesOf(record);
    const onBody = body === null || record.bodies.includes(body.id);
    const named = both.some((zone) => mentioned.has(zone.id));
    if (onBody && (!record.rearDoors || rear || named)) return both;
    return both.filter((zone) => mentioned.has(zone.id));
  });
  return zones.sort(byZone);
}

function byZone(a: Zone, b: Zone): number {
  return a.record.order - b.record.order || byCodeUnit(a.record.id, b.record.id) || sideRank(a) - sideRank(b);
}

function sideRank(zone: Zone): number {
  return zone.side === null ? 0 : sides.indexOf(zone.side);
}

function saysRearDoors(notes: Notes): boolean {
  const doors = notes.car.find((meta) => meta.key === 'doors');
  if (doors) return /^(4|5|four|five)\b/.test(plainWords(doors.text));
  return notes.car.some((meta) => ['car', 'body'].includes(meta.key) && /\b(4|5|four|five) doors?\b/.test(plainWords(meta.text)));
}
