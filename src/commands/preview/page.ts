import { createHash } from 'node:crypto';
import { visible } from '../../model/notice.ts';
import type { Notice } from '../../model/notice.ts';

/** What the preview adds to every page: what a reader of the dossier never sees. */
export interface PreviewState {
  notices: readonly Notice[];
  /** Those that the last edit brought: they stand first, and open. */
  fresh: readonly Notice[];
  /** The pages are of the state before, as errors in the job stop the making of new ones. */
  stale: boolean;
  /** Kinds of notices that say what is still to do at the car: counted, not listed. */
  todoRules: readonly string[];
}

/** Where a page asks to be told of a new state. */
export const changesAddress = '/-changes';

const script = `new EventSource(${JSON.stringify(changesAddress)}).addEventListener('change', () => location.reload());`;

const style = `#preview-notices{font:0.9rem/1.5 var(--sans);border-bottom:1px solid var(--line);background:var(--sheet);padding:0.4rem 1.25rem}#preview-notices summary{cursor:pointer;min-height:1.6rem}#preview-notices ol{margin:0.4rem 0;padding-left:1.2rem;max-height:40vh;overflow:auto}#preview-notices code{font-family:var(--mono);font-size:0.85em}@media print{#preview-notices{display:none}}`;

/** A page of the site as the preview serves it: the notices above it, and a script that loads it again after an edit. The content policy stays, widened by these two alone. */
export function previewPage(html: string, state: PreviewState): string {
  return html
    .replace(/(<meta http-equiv="content-security-policy" content=")([^"]*)/, (_, start: string, policy: string) => start + widened(policy))
    .replace('</head>', () => `<style>${style}</style></head>`)
    .replace(/<body[^>]*>/, (body) => `${body}${panel(state)}`)
    .replace('</body>', () => `<script>${script}</script></body>`);
}

/** The page in the place of a dossier that could not be made yet. */
export function emptyPage(state: PreviewState): string {
  return previewPage('<!DOCTYPE html><html lang="en"><head><meta charset="utf-8"><title>No dossier yet</title></head><body></body></html>', state);
}

function widened(policy: string): string {
  return policy
    .replace(/script-src /, `script-src ${hashOf(script)} `)
    .replace(/style-src /, `style-src ${hashOf(style)} `)
    .concat(policy.trimEnd().endsWith(';') ? '' : ';', " connect-src 'self';");
}

function hashOf(text: string): string {
  return `'sha256-${createHash('sha256').update(text).digest('base64')}'`;
}

function panel({ notices, fresh, stale, todoRules }: PreviewState): string {
  const listed = notices.filter((notice) => !todoRules.includes(notice.rule));
  const todo = notices.length - listed.length;
  const count = (level: Notice['level'], name: string): string[] => {
    const found = listed.filter((notice) => notice.level === level).length;
    return found === 0 ? [] : [`${found} ${name}${found === 1 ? '' : 's'}`];
  };
  const counts = [...count('error', 'error'), ...count('warning', 'warning'), ...count('note', 'note')].join(', ') || 'no notices';
  const words = `Preview${stale ? ', of the state before: errors stop the making of a new one' : ''} · ${counts}${todo > 0 ? ` · ${todo} still to do at the car` : ''}`;
  const order = { error: 0, warning: 1, note: 2 };
  const rank = (notice: Notice): number => order[notice.level] + (fresh.includes(notice) ? 0 : 3);
  const news = listed.some((notice) => fresh.includes(notice));
  const lines = listed.toSorted((a, b) => rank(a) - rank(b)).map((notice) => `<li><b>${notice.level}</b> ${spotOf(notice)}${text(sentence(notice))}</li>`);
  return `<details id="preview-notices"${stale || news ? ' open' : ''}><summary>${text(words)}</summary><ol>${lines.join('')}</ol></details>`;
}

function spotOf({ spot }: Notice): string {
  return spot ? `<code>${text([spot.file, spot.line, spot.column].filter((part) => part !== undefined).join(':'))}</code> ` : '';
}

function sentence({ found, expected, advice }: Notice): string {
  return visible(`${found}${expected ? `, expected ${expected}` : ''}.${advice ? ` ${advice}` : ''}`);
}

function text(words: string): string {
  return words.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;').replaceAll('"', '&quot;');
}
