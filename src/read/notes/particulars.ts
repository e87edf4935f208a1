import { treatments } from '../../model/notes.ts';
import type { Particulars, Words } from '../../model/notes.ts';

const treated: Readonly<Record<string, (typeof treatments)[number]>> = {
  'cared for': 'cared for', care: 'cared for', maintained: 'cared for', maintenance: 'cared for', serviced: 'cared for',
  conserved: 'conserved', conservation: 'conserved', preserved: 'conserved', preservation: 'conserved', stabilised: 'conserved', stabilized: 'conserved',
  restored: 'restored', restoration: 'restored', repaired: 'repaired', repair: 'repaired', mended: 'repaired',
  changed: 'changed', change: 'changed', altered: 'changed', modified: 'changed', converted: 'changed', replaced: 'changed',
};

/** The kind of treatment a whole piece names: "conserved", "preserved" (conserved), "replaced" (changed). Null for any other. Which word is which is our judgement. */
export function treatmentOf(text: string): string | null {
  const plain = text.toLowerCase().trim();
  return Object.hasOwn(treated, plain) ? (treated[plain] ?? null) : null;
}

/** "reversible", "not reversible", "irreversible" as a whole piece. */
export function reversibleOf(text: string): string | null {
  const match = /^(?:fully |wholly )?(not |ir|non-?|un)?reversible$/i.exec(text.trim());
  if (!match) return null;
  return match[1] === undefined ? 'reversible' : 'not reversible';
}

const number = String.raw`[\p{L}\p{N}](?:[\p{L}\p{N}./_#-]*[\p{L}\p{N}])?`;
const counter = String.raw`(?:\s+(?:no\.?|number|nr\.?|#))?\s*:?\s+#?`;
const invoice = new RegExp(String.raw`^(?:on |under |see |with )?(?:invoice|inv\.?|bill)${counter}(${number})$`, 'iu');
const batch = new RegExp(String.raw`^(?:(.+?)[\s,:(]+)?(?:batch|lot)${counter}(${number})\)?$`, 'iu');

/** The number of "invoice 2026/118"; null where the piece is no invoice with a number. */
export function invoiceIn(text: string): string | null {
  const found = invoice.exec(text)?.[1];
  return found !== undefined && /\d/.test(found) ? found : null;
}

/** The number of "batch 4411" or "lot A-17", with the words before it in its piece; null where there is none. */
export function batchIn(text: string): { before: string; number: string } | null {
  const found = batch.exec(text);
  const name = found?.[2];
  return name !== undefined && /\d/.test(name) ? { before: (found?.[1] ?? '').trim(), number: name } : null;
}

const surname = /^(?:(?:\p{Lu}\.)+|Mc|Mac|[OD]['’])?\p{Lu}\p{Ll}+(?:[-'’]\p{Lu}?\p{Ll}+)*$/u;
const initial = /^(?:(?:\p{Lu}\.)+(?:-(?:\p{Lu}\.)+)?|\p{Lu})$/u;
const particle = /^(?:van|von|der|den|de|da|di|du|la|le|ter|ten|af|of|and|&)$/;
const ending = /^(?:Sons?|Ltd\.?|GmbH|Co\.?|Jr\.?|Sr\.?)$/;
/** Names of goods and places are often capitalised too; a name with one of these words is none of a person or a firm. */
const goods = /\b(?:inner|outer|front|rear|left|right|upper|lower|top|bottom|face|edge|side|end|hole|flange|panel|wax\w*|prim\w*|paint\w*|seal\w*|oil\w*|zinc|lacquer|enamel|filler|foam|tape|rust\w*|plugs?|grommets?|spray|gel|cream|coat\w*|protect\w*|clear|black|white|grey|gray|red)\b/i;

/** Characters of a piece with names in it: nobody types more. */
const longestNames = 300;

/**
 * Hands in a piece: "by J. Arden", "waxed by J. Arden", or a piece that looks like a name by itself, of two words with
 * capitals or initials ("J. Arden", "Mary Cole and P. Ito", "Quarry Lane Bodyworks"). A single word is a name only behind
 * "by". Null where there is none.
 */
export function namesIn(text: string, isThing: (text: string) => boolean): { before: string; hands: string[] } | null {
  if (text.length > longestNames) return null;
  const behind = /^(?:(.*?)\s+)?by (?:hand of )?(\p{Lu}.*)$/u.exec(text);
  if (behind) {
    const hands = handsOf(behind[2] ?? '');
    if (hands.length > 0 && hands.every((name) => isName(name) || surname.test(name) || initial.test(name))) return { before: (behind[1] ?? '').trim(), hands };
  }
  const hands = handsOf(text);
  return hands.length > 0 && hands.every((name) => isName(name) && !goods.test(name) && !isThing(name)) ? { before: '', hands } : null;
}

/** Two to six words: names and initials, at most with a particle between. Initials alone are one too: "J.A.". */
function isName(text: string): boolean {
  const words = text.split(/\s+/);
  if (words.length === 1) return /^(?:\p{Lu}\.){2,4}$/u.test(text);
  const last = words.at(-1) ?? '';
  if (words.length > 6 || particle.test(words[0] ?? '') || !(surname.test(last) || ending.test(last))) return false;
  return words.some((word) => surname.test(word)) && words.every((word) => surname.test(word) || initial.test(word) || particle.test(word) || ending.test(word));
}

/** "J. Arden and M. Cole", "J. Arden, M. Cole", "J. Arden & M. Cole" one by one. */
function handsOf(text: string): string[] {
  return text.split(/\s*,\s+|\s+and\s+(?!Sons?\b)|\s+&\s+(?!Sons?\b)|\s+\+\s+/).map((name) => name.trim()).filter((name) => name !== '');
}

const keys: Readonly<Record<string, 'hands' | 'material' | 'batch' | 'invoice' | 'kept' | 'kind' | 'reversible'>> = {
  hands: 'hands', hand: 'hands', by: 'hands', who: 'hands', 'done by': 'hands',
  material: 'material', materials: 'material', used: 'material',
  batch: 'batch', lot: 'batch', 'batch no': 'batch', 'lot no': 'batch',
  invoice: 'invoice', invoices: 'invoice', bill: 'invoice', kept: 'kept', 'old part': 'kept', 'old parts': 'kept',
  kind: 'kind', treatment: 'kind', reversible: 'reversible',
};

/** What a line under a work tells of it; null for any other key. */
export function particularOf(key: string): 'hands' | 'material' | 'batch' | 'invoice' | 'kept' | 'kind' | 'reversible' | null {
  return Object.hasOwn(keys, key) ? (keys[key] ?? null) : null;
}

/** Adds what a line such as `material: cavity wax, batch 4411` says. `line` is kept as typed. */
export function addParticular(to: Particulars, key: NonNullable<ReturnType<typeof particularOf>>, value: string, line: Words): void {
  to.lines.push(line);
  const text = value.trim().replace(/(?<=[\p{L}\p{N})]{2})\.$/u, '');
  const pieces = text.split(/[,;]\s+/).map((piece) => piece.trim()).filter((piece) => piece !== '');
  if (pieces.length === 0) return;
  if (key === 'hands') to.hands.push(...handsOf(text));
  else if (key === 'material') to.materials.push(materialOf(pieces));
  else if (key === 'batch') addBatch(to, text);
  else if (key === 'invoice') to.invoices.push({ number: invoiceIn(pieces[0] ?? '') ?? pieces[0] ?? '', words: pieces.slice(1).join(', ') });
  else if (key === 'kept') to.kept.push(text);
  else for (const piece of pieces) addTreatment(to, key, piece);
}

function addTreatment(to: Particulars, key: 'kind' | 'reversible', piece: string): void {
  const yes = /^(?:yes|y|fully)$/i.test(piece) ? 'reversible' : /^(?:no|n|not)$/i.test(piece) ? 'not reversible' : null;
  const said = reversibleOf(piece) ?? (key === 'reversible' ? (yes ?? piece) : null);
  const treatment = treatmentOf(piece) ?? piece;
  if (said === null && !to.treatments.includes(treatment)) to.treatments.push(treatment);
  if (said === null) return;
  to.reversible = to.reversible === '' ? said : `${to.reversible}, ${said}`;
}

function materialOf(pieces: readonly string[]): Particulars['materials'][number] {
  const made = { name: '', batch: '', words: '' };
  for (const [at, piece] of pieces.entries()) {
    const found = made.batch === '' ? batchIn(piece) : null;
    if (found) {
      made.batch = found.number;
      if (found.before !== '' && made.name === '') made.name = found.before;
      else if (found.before !== '') made.words = [made.words, found.before].filter((one) => one !== '').join(', ');
    } else if (at === 0) made.name = piece;
    else made.words = [made.words, piece].filter((one) => one !== '').join(', ');
  }
  return made;
}

/** A batch by itself is of the material before it that has none. */
function addBatch(to: Particulars, text: string): void {
  const number = batchIn(`batch ${text}`)?.number ?? text;
  const open = to.materials.at(-1);
  if (open && open.batch === '') open.batch = number;
  else to.materials.push({ name: '', batch: number, words: '' });
}
