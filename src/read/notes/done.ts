import type { Money, Particulars, WorkDone } from '../../model/notes.ts';
import { kindsIn } from '../../model/works.ts';
import { subjectOf } from './about.ts';
import { hoursIn } from './hours.ts';
import { matchZone, plain } from './lexicon.ts';
import { takePhotos } from './mentions.ts';
import { checkMoney, findMoney, pieceOfMoney, typedMoney } from './money.ts';
import { isDate } from './numbers.ts';
import type { Item, Reader } from './reader.ts';
import { report, short } from './reader.ts';
import { batchIn, invoiceIn, namesIn, reversibleOf, treatmentOf } from './particulars.ts';
import type { Snippet } from './source.ts';
import { part, split } from './source.ts';
import { timesOf } from './work-hours.ts';

/** What a line `done:` says, and the photos it names. */
export interface DoneLine {
  done: WorkDone;
  photos: ReturnType<typeof takePhotos>['photos'];
}

/**
 * `done: 2026-05-02, waxed, J. Arden, batch 4411, 1.5 h`: the date first, then pieces in any order. What is neither hours,
 * money, batch, invoice, treatment, a name nor something kept is words of what was done.
 */
export function doneOf(reader: Reader, value: Snippet, item: Item): DoneLine {
  const pieces = split(value, /[,;]\s+|(?<=[\p{L}\p{N}]{3})\.\s+/gu);
  const first = pieces[0];
  const date = first && isDate(bare(first)) && bare(first).length === 10 ? bare(first) : null;
  if (date === null) {
    report(reader, first ?? item.spot, 'warning', 'date-unclear', {
      found: first ? `"${short(first.text)}"` : 'No date',
      expected: 'a date such as 2026-05-02 first',
      advice: 'Write year-month-day; until then the work counts as done at an unknown date.',
    });
  }
  const said = date === null ? pieces : pieces.slice(1);
  const behind = part(value, date === null ? 0 : Math.min(value.text.length, value.text.indexOf(date) + date.length));
  const { hours } = timesOf(reader, behind, true);
  const taken: Taken = { did: [], cost: null, photos: [], timed: false, open: false, hours: hours !== null, ...particulars() };
  for (const piece of said) takePiece(reader, piece, taken);
  if (taken.cost) checkMoney(reader, value, taken.cost);
  const { did, cost, photos, timed: _timed, open: _open, hours: _hours, ...known } = taken;
  const done: WorkDone = { text: item.text, spot: item.spot, date, details: said.map((piece) => bare(piece)), did, hours, cost, kinds: kindsIn(reader.catalogue, did.join(', ')).map((kind) => kind.id), ...known };
  return { done, photos };
}

/** Nothing known yet. */
export function particulars(): Particulars {
  return { hands: [], materials: [], invoices: [], treatments: [], reversible: '', kept: [], lines: [] };
}

interface Taken extends Particulars {
  did: string[];
  cost: Money | null;
  photos: DoneLine['photos'];
  /** The piece before was a time: a bare number may be money. */
  timed: boolean;
  /** The piece before said that something was kept: this one may say where. */
  open: boolean;
  /** Whether the times of the line can be counted. */
  hours: boolean;
}

/** A piece without the full stop that ends the line. */
function bare(piece: Snippet): string {
  return piece.text.replace(/(?<=[\p{L}\p{N})]{2})\.$/u, '');
}

function takePiece(reader: Reader, piece: Snippet, taken: Taken): void {
  const text = bare(piece);
  const { timed, open } = taken;
  taken.timed = false;
  taken.open = false;
  if (text === '' || takeFigure(reader, text, taken, timed) || takePaper(text, taken)) return;
  const treatment = treatmentOf(text);
  const reversible = reversibleOf(text);
  if (treatment !== null && !taken.treatments.includes(treatment)) return void taken.treatments.push(treatment);
  if (reversible !== null && taken.reversible === '') return void (taken.reversible = reversible);
  const named = takePhotos(reader, { text, offsets: piece.offsets.slice(0, text.length) });
  taken.photos.push(...named.photos);
  const words = named.rest.text;
  if (words !== '') takeWords(reader, words, taken, open);
}

/** A time or an amount that is a piece by itself. */
function takeFigure(reader: Reader, text: string, taken: Taken, timed: boolean): boolean {
  const [time] = hoursIn(text);
  if (taken.hours && time && time.from === 0 && time.to === text.length) return (taken.timed = true);
  const currency = reader.settings.currency ?? null;
  const found = taken.cost === null ? findMoney(text, currency, false) : null;
  const whole = found && found.before.trim() === '' && found.after.trim() === '' ? found.money : timed && taken.cost === null ? pieceOfMoney(text, currency) : null;
  if (whole) {
    taken.cost = whole;
    return true;
  }
  return false;
}

function takePaper(text: string, taken: Taken): boolean {
  const invoice = invoiceIn(text);
  if (invoice !== null) {
    taken.invoices.push({ number: invoice, words: '' });
    return true;
  }
  const batch = batchIn(text);
  if (!batch) return false;
  // "waxed with Tarn wax, batch 4411": the words before name what the batch is of.
  const used = /\b(?:with|using)\s+(.+)$/i;
  const name = batch.before === '' ? (used.exec(taken.did.at(-1) ?? '')?.[1] ?? '') : (used.exec(batch.before)?.[1] ?? batch.before);
  if (batch.before !== '' && used.test(batch.before)) taken.did.push(batch.before);
  taken.materials.push({ name, batch: batch.number, words: '' });
  return true;
}

/** Something kept, hands, or words of what was done, with money in them where they hold any. */
function takeWords(reader: Reader, words: string, taken: Taken, open: boolean): void {
  const kept = /^(.+?)\s+(?:(?:was|were|is|are)\s+)?kept(?:[\s:]+(.+))?$/i.exec(words);
  if (kept && !/\b(?:car|it|drains?|slots?|holes?)$/i.test(kept[1] ?? '') && !/^(?:open|free|clear|dry|clean|warm|wet|shut)\b/i.test(kept[2] ?? '')) {
    taken.kept.push([kept[1], kept[2]].filter((one) => one !== undefined).join(', '));
    taken.open = kept[2] === undefined;
    return;
  }
  const named = namesIn(words, (text) => isThing(reader, text));
  if (named) {
    taken.hands.push(...named.hands);
    if (named.before !== '') taken.did.push(named.before);
    return;
  }
  const last = taken.kept.length - 1;
  if (open) {
    taken.kept[last] = `${taken.kept[last]}, ${words}`;
    return;
  }
  taken.did.push(words);
  taken.cost ??= typedMoney(words, reader.settings.currency ?? null, false);
}

/** Whether capitalised words name a part, a zone, a material or a kind of work rather than somebody. */
function isThing(reader: Reader, text: string): boolean {
  const words = plain(text);
  return subjectOf(reader.lexicon, text) !== null || matchZone(reader.lexicon, text).kind !== 'unknown' || kindsIn(reader.catalogue, text).length > 0 ||
    reader.catalogue.materials.some((material) => [material.name.gb, material.name.us, ...material.also].some((name) => words.includes(plain(name))));
}
