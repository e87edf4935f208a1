import fc from 'fast-check';
import { expect, test } from 'vitest';
import { dossierSchema } from '../src/model/dossier.ts';
import type { Block, Dossier } from '../src/model/dossier.ts';
import { anchorsOf, inlineText } from '../src/write/inline.ts';
import { anchorsOf as siteAnchorsOf } from '../src/print/site/anchors.ts';
import { sitePages } from '../src/print/site/pages.ts';
import { dossierOf, judged } from './write/builders.ts';

const zones = ['# Sill, left', '# Sill, right (10:12)', '#Boot floor', '# Scuttle', '# left rocker', '# Sill', '# Garden shed', '# Car', '# Visit', '# Rates', '## deeper'];
const parts = ['plug', 'plug 25 mm, inner face 1', 'plug, inner face 1-3', 'plug, inner face 2', 'drain slot', 'drain tube, left', 'seam, bottom', 'grommet 19 mm, cable 8 mm, rear, wheel spray', 'metal inside, middle', 'coating inside', 'inside', 'gizmo', 'end cap, front'];
const states = ['sound', 'cracked, loose', 'missing', 'blcoked', 'blocked, mud, 40 x 60 mm', 'scaling', 'holed', 'bare', 'not seen', 'not fitted', 'in place', ''];
const tails = ['', '. pressed', '. seen through inner face 2', '. told by the seller', '. inferred from neighbours', '. IMG_1', '. IMG_1-3 and b.jpg', '. C:/x.jpg', '. carpet glued. to see it: heat, 0.5 h'];
const others = [
  '- plugs: 4 expected, 1 sound, 2 missing', '- plugs: 2 expected, 5 sound', '- expected: 9 plugs', '- not seen: rear third. cover strip. to see it: drill out 14 rivets, 1 h', '- not seen: everything. dark', '- not fitted: drain tube',
  '- not fitted: plug, inner face 1', '- mounting: 22 cm from seat-belt bolt', '- mounting: 30 cm', '- told, seller: "waxed every year"', '- told, the owner: plug, inner face 1: sound', '- opinion: hides the seam', '- do: wash out, wax. 2-3 h',
  '  - part: plug 25 mm x 4, 1.90 each', '  - done: 2026-05-02, waxed', '  - was: plug, inner face 2', '- ring 0.4 0.4 0.1: hole', '- hide 0.1 0.1 0.2 0.2: plate', '- steel, outer face: 0.62 mm, 0.60 mm', '- film, outer face: 480 um', '- steel: thin',
  '![plug, inner face 2: missing. rust](IMG_1.jpg)', '![](IMG_2.jpg)', '![words](gone.jpg)', '- again: 2026-10', '- ask: patch?', '- kept: plug', '- view front: IMG_3', '- seen: 2026-03-14 10:00-11:00, Europe/Dublin', '- built: 1971', '- body: saloon', '- body: boat',
  '- clock: Phone +1:00:00', 'Plain words, <b>raw</b>, [a](javascript:1).', '> quoted', '```', '---', '1. one', '<!--', '', '- ',
];
const line = fc.oneof(
  { weight: 2, arbitrary: fc.constantFrom(...zones) },
  { weight: 5, arbitrary: fc.tuple(fc.constantFrom(...parts), fc.constantFrom(...states), fc.constantFrom(...tails)).map(([part, state, tail]) => `- ${part}: ${state}${tail}`) },
  { weight: 5, arbitrary: fc.constantFrom(...others) },
  { weight: 1, arbitrary: fc.string({ unit: 'grapheme', maxLength: 30 }) },
);
const anyFindings = fc.array(line, { maxLength: 30 }).map((lines) => lines.join('\n'));
const anyPhotos = fc.subarray(['IMG_1.jpg', 'IMG_2.jpg', 'x/IMG_3.jpg', 'sill left/a.jpg', 'boot floor 1.jpg', 'b.jpg']);
const anyEdition = fc.constantFrom('purchase', 'progress', 'evidence', 'history');

const unlooked = ['inferred', 'told'];

function nested(block: Block): Block[] {
  if (block.type === 'list') return [block, ...block.items.flat().flatMap(nested)];
  return block.type === 'quote' ? [block, ...block.blocks.flatMap(nested)] : [block];
}

function photosShown(dossier: Dossier): Set<string> {
  const blocks = dossier.sections.flatMap((section) => section.blocks.flatMap(nested));
  return new Set(blocks.flatMap((block) => (block.type === 'photos' ? block.figures.map((figure) => figure.photo) : [])));
}

/** Sum of "3 kinds not counted" over the lines of the register of all zones. */
function kindsCounted(dossier: Dossier): number {
  const tables = dossier.sections.filter((section) => section.id === 'register').flatMap((section) => section.blocks.filter((block) => block.type === 'table'));
  const cells = tables.flatMap((table) => table.rows.map((row) => inlineText(row.cells[1]?.inline ?? [])));
  return cells.reduce((sum, words) => sum + Number(/^(\d+) kinds? not counted$/.exec(words)?.[1] ?? (words === 'one kind not counted' ? 1 : 0)), 0);
}

test('whatever was typed, the whole job runs and its dossier is whole', () => {
  fc.assert(
    fc.property(anyFindings, anyPhotos, anyEdition, (findings, photos, edition) => {
      const from = judged(findings, photos);
      const dossier = dossierSchema.parse(dossierOf(from, edition));
      // Every anchor once and every link to one that is there: what both printers ask for.
      const anchors = anchorsOf(dossier.sections);
      expect(new Set(anchors).size).toBe(anchors.length);
      expect(() => sitePages(dossier)).not.toThrow();
      expect([...siteAnchorsOf(dossier.sections).keys()].toSorted()).toEqual(anchors.toSorted());
      // No photo and no line of the register is left out.
      expect(dossier.photos.map((photo) => photo.file)).toEqual(from.inspection.photos.map(({ photo }) => photo.path));
      expect([...photosShown(dossier)].toSorted()).toEqual(dossier.photos.map((photo) => photo.id).toSorted());
      const rows = from.inspection.zones.flatMap((zone) => zone.rows);
      expect(dossier.register.map((row) => row.id).toSorted()).toEqual(rows.map((row) => row.id).toSorted());
      // A line of its own for whatever was named, counted, found or photographed; the other kinds are counted zone by zone.
      const folded = rows.filter((row) => row.known === 'kind' && row.outcome === 'not seen' && row.findings.length === 0 && row.photos.length === 0);
      expect(rows.filter((row) => !anchors.includes(row.id) && !folded.includes(row))).toEqual([]);
      expect(kindsCounted(dossier)).toBe(folded.length);
    }),
    { numRuns: 250 },
  );
});

test('whatever was typed, coverage counts what was looked at and nothing else', () => {
  fc.assert(
    fc.property(anyFindings, (findings) => {
      const { coverage, register } = dossierOf(judged(findings));
      const known = register.filter((row) => row.known !== 'kind' && row.outcome !== 'not fitted');
      const seen = known.filter((row) => row.seen);
      expect([coverage.known, coverage.seen, coverage.known - coverage.seen]).toEqual([known.length, seen.length, known.filter((row) => !row.seen).length]);
      expect(seen.filter((row) => row.origin === 'told' || row.evidence === null || unlooked.includes(row.evidence) || row.outcome === 'not seen')).toEqual([]);
      expect(register.filter((row) => !row.seen && !['not seen', 'not fitted'].includes(row.outcome))).toEqual([]);
      expect(coverage.words).toContain(coverage.known === 0 ? 'no opening named or counted' : `${coverage.seen} of ${coverage.known} known`);
    }),
    { numRuns: 250 },
  );
});
