import type { Catalogue, Outcome } from '../model/catalogue.ts';
import type { Count, Finding, Looked, NotSeen, Origin } from '../model/notes.ts';
import type { Language } from '../model/wording.ts';
import { badnessOf, conditionOf, conditionsText, inSentence, termIn, worstFirst } from '../model/wording.ts';
import { findingWords, said } from './captions.ts';

/** What the stages of `place` look words up in. */
export interface Terms {
  catalogue: Catalogue;
  language: Language;
}

/** What one line says of one opening or observation. */
export interface Verdict {
  outcome: Outcome;
  /** Looked at by a grade that counts, and not hearsay. */
  seen: boolean;
  /** In words, for cannot tell, not fitted and not seen; else empty. */
  reason: string;
}

/** A line with conditions, or one of a count. */
interface Judged {
  origin: Origin;
  looked: Looked;
  conditions: readonly string[];
  /** The words it was written in, for a reason. */
  words: string;
}

const seenRank: readonly Outcome[] = ['sound', 'cannot tell', 'defect'];

/** The worse of two outcomes of things that were seen: defect, then cannot tell, then sound. */
export function worseOutcome(a: Outcome, b: Outcome): Outcome {
  return seenRank.indexOf(b) > seenRank.indexOf(a) ? b : a;
}

/** Verdict of a finding. */
export function verdictOf(terms: Terms, finding: Finding): Verdict {
  const { origin, looked, conditions } = finding;
  return judge(terms, { origin, looked, conditions, words: findingWords(terms.catalogue, terms.language, finding) || finding.text });
}

/** Verdict of one opening of a count: "1 cracked". */
export function verdictOfCount(terms: Terms, count: Count, condition: string): Verdict {
  const { origin, looked } = count;
  return judge(terms, { origin, looked, conditions: [condition], words: count.words || conditionsText(terms.catalogue, [condition], terms.language) });
}

function judge(terms: Terms, judged: Judged): Verdict {
  const { catalogue, language } = terms;
  const { origin, looked, words } = judged;
  // "sound, in place" says more than "in place" alone.
  const conditions = judged.conditions.includes('sound') ? judged.conditions.filter((id) => id !== 'in-place') : judged.conditions;
  if (origin.kind === 'told') return { outcome: 'not seen', seen: false, reason: /\btold by\b/i.test(words) ? words : said(origin) + words };
  const evidence = catalogue.evidence.find((record) => record.id === looked.evidence);
  if (!evidence?.counts) return { outcome: 'not seen', seen: false, reason: uncounted(evidence ? termIn(evidence.name, language) : looked.evidence, words) };
  if (conditions.some(meansNotSeen)) return { outcome: 'not seen', seen: false, reason: words };
  if (conditions.some(meansNotFitted)) return { outcome: 'not fitted', seen: false, reason: words };
  if (origin.kind === 'opinion') return { outcome: 'cannot tell', seen: true, reason: 'opinion' };
  const outcome = ownOutcome(catalogue, conditions);
  if (outcome === null) return { outcome: 'cannot tell', seen: true, reason: `the words name no known condition: ${words}` };
  const open = conditions.filter((id) => conditionOf(catalogue, id)?.outcome === 'cannot tell');
  const reason = outcome === 'cannot tell' ? `“${conditionsText(catalogue, open, language)}” does not tell whether it keeps its purpose` : '';
  return { outcome, seen: true, reason };
}

/** "inferred, not looked at", "told: waxed every year". */
function uncounted(evidence: string, words: string): string {
  const name = inSentence(evidence);
  if (/^told\b/.test(name)) return `told: ${words}`;
  if (/^not seen\b/.test(name)) return words;
  return `${/^inferred\b/.test(name) ? 'inferred' : name}, not looked at`;
}

/** Counts write these words where a condition would stand. */
export function meansNotSeen(condition: string): boolean {
  return condition === 'not seen' || condition === 'not-seen';
}

/** Counts write these words where a condition would stand. */
export function meansNotFitted(condition: string): boolean {
  return condition === 'not fitted' || condition === 'not-fitted';
}

/** Worst outcome of the conditions themselves, whoever says them; null where none is known. */
function ownOutcome(catalogue: Catalogue, conditions: readonly string[]): Outcome | null {
  let worst: Outcome | null = null;
  for (const id of conditions) {
    const condition = conditionOf(catalogue, id);
    if (condition) worst = worst === null ? condition.outcome : worseOutcome(worst, condition.outcome);
  }
  return worst;
}

/** What several lines about one opening come to. */
export interface Merged extends Verdict {
  /** Condition ids, worst first, of the lines that decide: beside a defect another line's "sound" is none of them. */
  conditions: string[];
  /** The line that decides. */
  decisive: Finding | null;
}

/**
 * Several findings about one opening: what was seen as fact rules, the worst of it first; then opinions; then what was
 * told or inferred, which leaves the opening not seen.
 */
export function mergeFindings(terms: Terms, findings: readonly Finding[]): Merged {
  const { catalogue } = terms;
  const judged = findings.map((finding) => ({ finding, verdict: verdictOf(terms, finding) }));
  const seen = judged.filter(({ verdict }) => verdict.seen);
  const facts = seen.filter(({ finding }) => finding.origin.kind === 'fact');
  const opinions = seen.filter(({ finding }) => finding.origin.kind === 'opinion');
  const ruling = facts.length > 0 ? facts : opinions.length > 0 ? opinions : judged;
  const [first, ...others] = ruling;
  if (!first) return { outcome: 'not seen', seen: false, reason: 'nothing written', conditions: [], decisive: null };
  let worst = first;
  for (const one of others) {
    const worse = worseOutcome(worst.verdict.outcome, one.verdict.outcome) !== worst.verdict.outcome;
    const same = worst.verdict.outcome === one.verdict.outcome;
    if (worse || (same && badnessOf(catalogue, one.finding.conditions) > badnessOf(catalogue, worst.finding.conditions))) worst = one;
  }
  // What nobody saw shows no condition: readers of the row must not take hearsay for a look.
  const conditions = worst.verdict.seen ? worstFirst(catalogue, ruling.filter(({ verdict }) => verdict.outcome === worst.verdict.outcome).flatMap(({ finding }) => finding.conditions)) : [];
  const merged: Merged = { ...worst.verdict, conditions, decisive: worst.finding };
  const doubt = opinions.find(({ finding }) => ownOutcome(catalogue, finding.conditions) !== 'sound');
  if (merged.outcome !== 'sound' || facts.length === 0 || !doubt) return merged;
  return { ...merged, outcome: 'cannot tell', reason: `opinion: ${findingWords(catalogue, terms.language, doubt.finding) || doubt.finding.text}` };
}

/** Stands where something is written as not seen and nothing says why. */
export const noReason = 'no reason written';

/** Why it was not seen: in the words as written, else the record's, else that no reason was written. */
export function notSeenReason(terms: Terms, entry: NotSeen): string {
  const record = terms.catalogue.reasons.find((reason) => reason.id === entry.reason);
  const reason = entry.reasonWords.trim() || (record ? inSentence(termIn(record.name, terms.language)) : '') || noReason;
  return entry.origin.kind === 'told' ? said(entry.origin) + reason : reason;
}

/** What it takes to see it: as written, else what the reason usually takes. */
export function toSeeOf(terms: Terms, entry: NotSeen): string {
  const usual = terms.catalogue.reasons.find((reason) => reason.id === entry.reason)?.toSee ?? '';
  // What the inspector did not write must not read as if they had.
  return entry.toSee.trim() || (usual === '' ? '' : `not written, usually: ${usual}`);
}
