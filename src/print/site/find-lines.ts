import { anchorOf, anchorsOnce } from '../../model/anchor-names.ts';
import type { Block, BlockOf, Dossier, Figure, Inline, Section } from '../../model/dossier.ts';
import { words } from '../../model/printed-words.ts';
import { inputsMark } from '../../model/wording.ts';
import { anchorsOf } from './anchors.ts';
import { stateOf } from './blocks.ts';
import type { FindKind, FindLine } from './data.ts';
import { saidOf, textOf, wordsAtStart } from './find-words.ts';
import { zonesOf } from './find-zones.ts';
import type { IndexZone } from './find-zones.ts';

/** A line before its link is worked out. */
export interface Line extends Omit<FindLine, 'href' | 'terms'> {
  page: string;
  anchor: string;
  zone: string | null;
}

/** What has no anchor of its own in the dossier and gets one here: the templates print it as `id`. */
type Nameable = { id?: string | undefined };
type Row = BlockOf<'table'>['rows'][number];
type Table = BlockOf<'table'>;

interface Walk {
  dossier: Dossier;
  zones: ReadonlyMap<string, IndexZone>;
  carriesLoad: ReadonlySet<string>;
  register: ReadonlyMap<string, Dossier['register'][number]>;
  /** Anchors of rows: a line of another table that links to one says the same again. */
  rowAnchors: ReadonlySet<string>;
  /** Paths of the originals of photos: the list of hashes has a line for each. */
  files: ReadonlySet<string>;
  lines: Line[];
  once(wanted: string): string;
}

/** Where in the dossier the walk is. */
interface Spot {
  section: Section;
  zone: string | null;
}

/**
 * Every section title, opening, observation, reading, step, photo, caution and stretch of words of a dossier, once, in its
 * order. What has no anchor gets one in the sections handed back, made of its first words, so that it stays as others are added.
 */
export function linesOf(dossier: Dossier): { sections: Section[]; lines: Line[] } {
  const sections = structuredClone(dossier.sections);
  const once = anchorsOnce();
  for (const anchor of anchorsOf(sections).keys()) once(anchor);
  const walk: Walk = {
    dossier,
    zones: zonesOf(dossier),
    carriesLoad: new Set(dossier.index?.carriesLoad ?? []),
    register: new Map(dossier.register.map((row) => [row.id, row])),
    rowAnchors: new Set(sections.flatMap(({ blocks }) => blocks.flatMap((block) => (block.type === 'table' ? block.rows.flatMap(({ id }) => (id?.includes('--') ? [id] : [])) : [])))),
    files: new Set(dossier.photos.map(({ file }) => file)),
    lines: [],
    once,
  };
  for (const section of sections) {
    const zone = walk.zones.has(section.id) ? section.id : null;
    const state = zone === null ? undefined : walk.zones.get(zone);
    add(walk, { section, zone }, 'section', section.id, { title: section.title, state: state?.state ?? null, text: state?.said ?? '' });
    for (const block of section.blocks) walkBlock(walk, { section, zone }, block);
  }
  kindsOf(walk, sections);
  photosOf(walk, sections);
  return { sections, lines: walk.lines };
}

function add(walk: Walk, { section, zone }: Spot, kind: FindKind, anchor: string, line: Partial<Line> & Pick<Line, 'title'>): void {
  const carries = kind === 'opening' || kind === 'observation' || kind === 'step' ? walk.carriesLoad.has(anchor) : zone !== null && (walk.zones.get(zone)?.carriesLoad ?? false);
  walk.lines.push({ state: null, text: '', origin: null, part: null, zones: [], load: carries, ...line, kind, anchor, page: section.page, zone });
}

/** The anchor of a thing, made where it has none. */
function named(walk: Walk, { section }: Spot, thing: object, words: string): string {
  const nameable: Nameable = thing;
  const start = words.trim().split(/\s+/).slice(0, 5).join(' ').slice(0, 40);
  return (nameable.id ??= walk.once([section.id, anchorOf(start) || 'words'].join('--')));
}

function walkBlock(walk: Walk, spot: Spot, block: Block): void {
  switch (block.type) {
    case 'heading':
      return add(walk, spot, 'section', named(walk, spot, block, block.text), { title: block.text });
    case 'paragraph':
      return addWords(walk, spot, block, block.inline);
    case 'remark':
      return add(walk, spot, 'words', named(walk, spot, block, textOf(block.inline)), { title: '', text: textOf(block.inline), origin: { origin: block.origin, ...(block.by === undefined ? {} : { by: block.by }) } });
    case 'code':
      return addWords(walk, spot, block, [block.text]);
    case 'facts':
      for (const item of block.items) add(walk, spot, 'words', named(walk, spot, item, item.term), { title: item.term, text: [textOf(item.value), item.note ?? ''].filter((said) => said !== '').join('; ') });
      return;
    case 'table':
      for (const row of block.rows) walkRow(walk, spot, block, row);
      return;
    case 'steps':
      for (const step of block.items) {
        const text = saidOf([step.tags.join(', '), ...[step.why, step.what, step.figures ?? [], step.cautions].map(textOf)]);
        add(walk, { ...spot, zone: spot.zone ?? zoneLinked(walk, step.title) }, 'step', step.id, { title: textOf(step.title), state: stateOf(step), text });
      }
      return;
    case 'outlook':
      for (const item of block.items) add(walk, spot, 'outlook', named(walk, spot, item, item.name), { title: item.name, text: textOf(item.inline) });
      return;
    case 'plots':
      for (const item of block.scales.flatMap((scale) => scale.items)) add(walk, spot, 'words', item.id ?? spot.section.id, { title: textOf(item.name), text: textOf(item.inline) });
      return;
    case 'timeline':
      return add(walk, spot, 'words', spot.section.id, { title: block.caption, text: block.label });
    case 'caution':
      return add(walk, spot, 'caution', block.id, { title: block.title, text: saidOf([block.when, ...block.points, textOf(block.source)]) });
    case 'pair':
      return add(walk, spot, 'photo', named(walk, spot, block, block.title), { title: block.title, text: textOf(block.caption) });
    case 'list':
      for (const inner of block.items.flat()) walkBlock(walk, spot, inner);
      return;
    case 'quote':
      for (const inner of block.blocks) walkBlock(walk, spot, inner);
      return;
    // Zones are lines of their own, photos come once each, at the end.
    case 'zones':
    case 'photos':
    case 'rule':
      return;
  }
}

/** Words with their beginning as the link: what is set strong there, or the first few. */
function addWords(walk: Walk, spot: Spot, thing: object, inline: Inline): void {
  const text = textOf(inline).replace(/\s+/g, ' ').trim();
  if (text === '') return;
  const [first] = inline;
  const strong = typeof first === 'object' && first.strong ? first.text.trim() : '';
  const title = strong !== '' && strong.length <= 60 ? strong : wordsAtStart(text);
  add(walk, spot, 'words', named(walk, spot, thing, text), { title, text: text.slice(title.length) });
}

function walkRow(walk: Walk, spot: Spot, table: Table, row: Row): void {
  // What a section's chances rest on are lines of their own: it leads to them, and says nothing else.
  if (row.id?.startsWith(inputsMark)) return;
  const kind = kindOfRow(walk, row.id);
  // Its kinds are lines of their own, and so is the photo of a file.
  if (kind === 'fold' || (row.id === undefined && walk.files.has(textOf(row.cells[0]?.inline ?? [])))) return;
  if (row.id === undefined && row.cells.some(({ inline }) => inline.some((run) => typeof run === 'object' && run.href?.startsWith('#') && walk.rowAnchors.has(run.href.slice(1))))) return;
  const [head] = row.cells;
  const linked = kind === 'section' ? (row.id ?? null) : zoneLinked(walk, head?.inline ?? []);
  const zone = spot.zone ?? linked;
  const told = row.cells.map((cell, at) => ({ text: textOf(cell.inline), column: table.columns[at]?.title ?? '' }));
  // The zone heads its lines already.
  const rest = kind !== 'section' && kind !== 'step' && linked !== null && told[0]?.text === walk.zones.get(linked)?.name ? told.slice(1) : told;
  const titled = kind === 'row' || kind === 'reading';
  const said = rest.slice(1).filter(({ text }) => text !== '').map(({ text, column }) => (titled && column !== '' ? `${column}: ${text}` : text));
  const text = kind === 'row' ? saidOf([table.caption, said.join('; ')]) : kind === 'step' ? saidOf(said) : said.join('; ');
  const title = rest[0]?.text || told[0]?.text || table.caption;
  add(walk, { ...spot, zone }, kind, row.id ?? named(walk, spot, row, `${zone === spot.zone ? '' : told[0]?.text ?? ''} ${title}`), {
    title,
    state: row.cells.find((cell) => cell.state !== undefined)?.state ?? null,
    text,
    part: kind === 'opening' ? (walk.register.get(row.id ?? '')?.part ?? null) : kind === 'observation' ? (row.id?.split('--')[1] ?? null) : null,
  });
}

/** By the anchor: rows of the register, of a zone, steps; what else has one or none is a line of some table. */
function kindOfRow(walk: Walk, id: string | undefined): FindKind | 'fold' {
  if (id === undefined) return 'row';
  if (walk.register.has(id)) return 'opening';
  if (walk.zones.has(id)) return 'section';
  const [zone = '', second = ''] = id.split('--');
  if (!walk.zones.has(zone) || second === '') return id.startsWith('step-') ? 'step' : 'row';
  if (/^not-counted(-\d+)?$/.test(second)) return 'fold';
  return second === 'reading' ? 'reading' : 'observation';
}

/** The zone a run of text links to first. */
function zoneLinked(walk: Walk, inline: Inline): string | null {
  for (const run of inline) {
    const anchor = typeof run === 'object' && run.href?.startsWith('#') ? run.href.slice(1) : '';
    if (walk.zones.has(anchor)) return anchor;
  }
  return null;
}

/** Rows of the register that share a line, or have none: each kind of opening nobody counted. */
function kindsOf(walk: Walk, sections: readonly Section[]): void {
  const shown = new Set(walk.lines.filter(({ kind }) => kind === 'opening').map(({ anchor }) => anchor));
  const folds = sections.flatMap((section) => section.blocks.flatMap((block) => (block.type === 'table' ? block.rows.map((row) => ({ section, row })) : []))).filter(({ row }) => kindOfRow(walk, row.id) === 'fold');
  for (const row of walk.dossier.register) {
    if (shown.has(row.id)) continue;
    const own = folds.filter((fold) => fold.row.id?.startsWith(`${row.zone}--`));
    const fold = own.find((one) => one.row.cells.some((cell) => row.reason !== '' && textOf(cell.inline).toLowerCase().startsWith(row.reason.toLowerCase()))) ?? own[0];
    const section = fold?.section ?? sections.find(({ id }) => id === row.zone) ?? sections.find(({ id }) => id === 'register') ?? sections[0];
    if (!section) continue;
    const part = walk.dossier.index?.terms.find((term) => term.of === 'part' && term.id === row.part)?.names[0] ?? row.part.replaceAll('-', ' ');
    const load = walk.carriesLoad.has(row.id);
    const line = { title: [part, row.place].filter((text) => text !== '').join(', '), state: row.outcome, text: [row.known === 'kind' ? words.find.uncounted : '', row.reason, row.toSee === '' ? '' : words.find.toSee(row.toSee)].filter((said) => said !== '').join('; '), part: row.part, load };
    add(walk, { section, zone: row.zone }, 'opening', fold?.row.id ?? section.id, line);
  }
}

interface Shown {
  figure: Figure & Nameable;
  section: Section;
  anchor: string | null;
  rank: number;
}

/** Each photo once: at its place in the index of photos, else where it is shown with an anchor, else where it is shown. */
function photosOf(walk: Walk, sections: readonly Section[]): void {
  const shown = sections.flatMap((section) => section.blocks.flatMap((block) => shownIn(section, block)));
  for (const photo of walk.dossier.photos) {
    const [best] = shown.filter(({ figure }) => figure.photo === photo.id).sort((a, b) => a.rank - b.rank);
    if (!best) continue;
    const zones = photo.zones.filter((id) => walk.zones.has(id));
    const spot = { section: best.section, zone: zones[0] ?? null };
    const anchor = best.anchor ?? (best.figure.id ??= walk.once(`${best.section.id}--photo-${photo.id}`));
    const text = captionsOf(best, shown.filter((one) => one !== best && one.figure.photo === photo.id));
    const first = best.figure.caption[0];
    const title = typeof first === 'object' && first.strong && first.text.length <= 90 ? first.text.trim() : wordsAtStart(text);
    add(walk, spot, 'photo', anchor, { title: title || photo.id, text: text.slice(title.length), zones: zones.slice(1) });
  }
}

/** What is said below a photo at its place, then whatever is said below it elsewhere and not there. */
function captionsOf(best: Shown, others: readonly Shown[]): string {
  const wordsIn = (text: string): string[] => text.split(/[^\p{L}\p{N}]+/u);
  const text = textOf(best.figure.caption).trim();
  const known = new Set(wordsIn(text));
  return [text, ...new Set(others.map(({ figure }) => textOf(figure.caption).trim()).filter((other) => wordsIn(other).some((word) => !known.has(word))))].join(' ');
}

function shownIn(section: Section, block: Block): Shown[] {
  if (block.type === 'pair') return [block.before, ...(block.during ?? []), block.after].map((figure) => ({ figure, section, anchor: block.id ?? section.id, rank: 3 }));
  if (block.type !== 'photos') return [];
  return block.figures.map((figure) => ({ figure, section, anchor: figure.id ?? null, rank: figure.id === undefined ? 2 : block.look === 'index' ? 0 : 1 }));
}

