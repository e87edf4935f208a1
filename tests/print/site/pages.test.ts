import { expect, test } from 'vitest';
import type { Dossier, Inline, Section } from '../../../src/model/dossier.ts';
import type { SitePage } from '../../../src/print/site/data.ts';
import { sitePages } from '../../../src/print/site/pages.ts';
import { siteDossier } from './dossier.ts';

function pageOf(dossier: Dossier, path: string): SitePage {
  const page = sitePages(dossier).pages.find((each) => each.path === path);
  if (!page) throw new Error(`no page ${path}`);
  return page;
}

function dossierWith(...sections: Section[]): Dossier {
  return { ...siteDossier(), sections };
}

function section(id: string, page: string, blocks: Section['blocks'] = []): Section {
  return { id, title: id, page, breakBefore: false, blocks };
}

function words(inline: Inline): Section['blocks'][number] {
  return { type: 'paragraph', inline };
}

function inlineOf(page: SitePage): Inline {
  const block = page.sections[0]?.blocks[0];
  return block?.type === 'paragraph' ? block.inline : [];
}

test('the overview comes first, the other pages in the order of their sections, then the index and all on one page', () => {
  const dossier = dossierWith(section('b', 'zones/b'), section('home', 'index'), section('a', 'zones/a'));
  expect(sitePages(dossier).pages.map((page) => page.path)).toEqual(['index', 'zones/b', 'zones/a', 'find', 'whole']);
  expect(() => sitePages(dossierWith(section('a', 'zones/a')))).toThrow(/no overview/);
});

test('links lead from the page they stand on to the page that holds the anchor', () => {
  const to = (href: string): Inline => [{ text: 'there', href }];
  const dossier = dossierWith(
    section('home', 'index', [words(to('#b'))]),
    section('a', 'zones/a', [words([...to('#b'), ...to('#a'), ...to('#home')])]),
    section('b', 'zones/b'),
  );
  expect(inlineOf(pageOf(dossier, 'index'))).toEqual([{ text: 'there', href: 'zones/b.html#b' }]);
  expect(inlineOf(pageOf(dossier, 'zones/a'))).toEqual([
    { text: 'there', href: 'b.html#b' },
    { text: 'there', href: '#a' },
    { text: 'there', href: '../index.html#home' },
  ]);
});

test('links inside an outlook and inside the numbers of a step lead from their page too', () => {
  const there: Inline = [{ text: 'there', href: '#b' }];
  const bar = { label: 'if left', best: 0, low: 12, middle: 20, high: 31, worst: 66, text: '12 to 31 in 100' };
  const step = { id: 'step', title: [], state: 'defect' as const, tags: [], why: [], what: [], figures: there, cautions: [] };
  const dossier = dossierWith(
    section('home', 'index', [
      { type: 'outlook', caption: 'Chance', items: [{ name: 'Outer cell', inline: there, bars: [bar, { ...bar, label: 'with the work done', low: 100, middle: 100, high: 100, worst: 100 }] }] },
      { type: 'steps', items: [step, { ...step, id: 'other', figures: undefined }] },
    ]),
    section('b', 'zones/b'),
  );
  const [outlook, steps] = pageOf(dossier, 'index').sections[0]?.blocks ?? [];
  const arrived = [{ text: 'there', href: 'zones/b.html#b' }];
  expect(outlook?.type === 'outlook' && outlook.items[0]?.inline).toEqual(arrived);
  expect(steps?.type === 'steps' && steps.items.map((item) => item.figures)).toEqual([arrived, undefined]);
  const bars = outlook?.type === 'outlook' ? (outlook.items[0]?.bars ?? []) : [];
  expect(bars.map(({ alt, hollow }) => [alt, hollow])).toEqual([['if left: 12 to 31 in 100', false], ['with the work done: 12 to 31 in 100', true]]);
  // A range of one value has a length, and stays below 100.
  expect(bars.map(({ from, to }) => [from, to])).toEqual([[12, 31], [97.5, 100]]);
});

test('every kind of anchor is found: section, heading, row, figure, step, outlook, caution, also inside lists', () => {
  const dossier = siteDossier();
  const anchors = ['sill-left', 'sill-left-openings', 'sill-left-plug-2', 'photo-img-4022', 'step-boot-floor', 'outlook-inner-cell', 'caution-wax', 'deep'];
  dossier.sections.push(
    section('last', 'last', [
      words(anchors.map((anchor) => ({ text: anchor, href: `#${anchor}` }))),
      { type: 'list', ordered: false, items: [[{ type: 'quote', blocks: [{ type: 'heading', level: 3, text: 'Deep', id: 'deep' }] }]] },
    ]),
  );
  expect(inlineOf(pageOf(dossier, 'last')).map((run) => (typeof run === 'string' ? run : run.href))).toEqual([
    'zones/sill-left.html#sill-left',
    'zones/sill-left.html#sill-left-openings',
    'zones/sill-left.html#sill-left-plug-2',
    'zones/sill-left.html#photo-img-4022',
    'index.html#step-boot-floor',
    'zones/sill-left.html#outlook-inner-cell',
    'cautions.html#caution-wax',
    '#deep',
  ]);
});

test('an anchor to nowhere, an anchor twice, an unknown zone and an unknown photo are our mistakes and throw', () => {
  expect(() => sitePages(dossierWith(section('home', 'index', [words([{ text: 'x', href: '#gone' }])])))).toThrow(/"#gone".*nowhere/);
  expect(() => sitePages(dossierWith(section('home', 'index'), section('home', 'b')))).toThrow(/"home" stands twice/);
  const zone = { zone: 'gone', name: 'Gone', state: 'not seen', structure: false, coverage: '', gist: '' } as const;
  expect(() => sitePages(dossierWith(section('home', 'index', [{ type: 'zones', items: [zone] }])))).toThrow(/"#gone"/);
  const figure = { photo: 'gone', alt: '', caption: [] };
  expect(() => sitePages(dossierWith(section('home', 'index', [{ type: 'photos', look: 'large', figures: [figure] }])))).toThrow(/photo "gone"/);
});

test.each([
  'javascript:alert(1)',
  ' javascript:alert(1)',
  'JaVaScRiPt:alert(1)',
  'data:text/html,<script>alert(1)</script>',
  'vbscript:x',
  'file:///etc/passwd',
  '//example.org/x',
  '/absolute',
  'other.html',
  'https://example.org/\nx',
  '',
])('an address we do not print leaves its words behind: %j', (href) => {
  const page = pageOf(dossierWith(section('home', 'index', [words([{ text: 'words', strong: true, href }])])), 'index');
  expect(inlineOf(page)).toEqual([{ text: 'words', strong: true }]);
});

test.each(['https://example.org/a?b=c&d=e#f', 'http://example.org/', 'mailto:someone@example.org', 'tel:+3531234567'])('%s is printed', (href) => {
  expect(inlineOf(pageOf(dossierWith(section('home', 'index', [words([{ text: 'x', href }])])), 'index'))).toEqual([{ text: 'x', href }]);
});

test('navigation marks the page, and leads to the section where a page has several', () => {
  const dossier = siteDossier();
  const index = pageOf(dossier, 'index').navigation;
  expect(index.map((link) => [link.label, link.href, link.current])).toEqual([
    ['In short', 'index.html', true],
    ['First steps', 'index.html#first-steps', false],
    ['Zones', 'index.html#zones-list', false],
    ['Photos', 'photos.html', false],
    ['Cautions', 'cautions.html', false],
  ]);
  expect(pageOf(dossier, 'photos').navigation.filter((link) => link.current).map((link) => link.label)).toEqual(['Photos']);
  expect(pageOf(dossier, 'zones/sill-left').navigation.map((link) => link.href)).toContain('../photos.html');
});

test('a zone page knows its way home and its neighbours, other pages have none', () => {
  const page = pageOf(siteDossier(), 'zones/sill-right');
  expect(page.trail).toEqual([
    { href: '../index.html', label: 'In short' },
    { href: '../index.html#zones-list', label: 'Where: zones, front to rear' },
  ]);
  expect(page.previous).toEqual({ href: 'sill-left.html', label: 'Sill, left' });
  expect(page.next).toEqual({ href: 'boot-floor.html', label: 'Boot floor' });
  const photos = pageOf(siteDossier(), 'photos');
  expect([photos.trail, photos.previous, photos.next]).toEqual([[], null, null]);
});

test('key facts stand beside the opening paragraphs, and where no paragraph opens they stay in place', () => {
  const [first, second] = pageOf(siteDossier(), 'index').sections;
  expect(first?.opening?.words.map((block) => block.type)).toEqual(['paragraph']);
  // Words that follow the facts stand below them on a phone.
  expect(first?.opening?.after.map((block) => block.type)).toEqual(['paragraph']);
  expect(first?.opening?.facts.items).toHaveLength(6);
  expect(first?.blocks).toEqual([]);
  expect(second?.opening).toBeNull();
});

test('a photo is asked for at an ordinary width, opens at its largest, and only the first of a page is eager', () => {
  const page = pageOf(siteDossier(), 'zones/sill-left');
  const photos = page.sections[0]?.blocks.find((block) => block.type === 'photos');
  expect(photos?.figures.map((figure) => figure.eager)).toEqual([true, false, false, false]);
  expect(photos?.figures[0]?.picture).toEqual({
    image: {
      src: '../photos/img-4021-960.jpg',
      srcset: '../photos/img-4021-480.jpg 480w, ../photos/img-4021-960.jpg 960w, ../photos/img-4021-1600.jpg 1600w',
      width: 1600,
      height: 1200,
      large: '../photos/img-4021-1600.jpg',
      stature: 'wide',
    },
    flaw: '',
  });
});

test('a file name cannot end an address early', () => {
  const dossier = siteDossier();
  const photo = dossier.photos.find((each) => each.id === 'img-4025');
  if (photo) photo.renditions = [{ file: 'photos/a #1?, 50 %.jpg', width: 10, height: 10 }];
  const block = pageOf(dossier, 'zones/sill-right').sections[0]?.blocks[0];
  expect(block?.type === 'photos' && block.figures[0]?.picture.image?.srcset).toBe('../photos/a%20%231%3F%2C%2050%20%25.jpg 10w');
});

test('a draft says so, an issue has number and date', () => {
  expect(sitePages(siteDossier()).status).toBe('Draft, not issued');
  const issue = { ...siteDossier(), status: { kind: 'issue', number: '2026-014', date: '2026-03-15' } } as const;
  expect(sitePages(issue).status).toBe('Dossier 2026-014, issued 15 March 2026');
});
