import { expect, test } from 'vitest';
import { portableFaults } from '../../../src/print/site/portable.ts';

const script = '<script type="module">let a = "<img src=\'/no\'>";</script>';

function faults(body: string, files: string[] = [], more: [string, string][] = []): string[] {
  return portableFaults(new Map([['zones/a.html', script + body], ...more]), files);
}

test('a page whose links all lead somewhere is portable', () => {
  const body = '<p id="here"><a href="#here">x</a><a href="../index.html#top">x</a><a href="https://example.org/">x</a>';
  const picture = '<img alt="a > b, 5 < 6" src="../photos/a%20%231.jpg" srcset="../photos/a%20%231.jpg 1w, ../photos/b.jpg 2w">';
  expect(faults(body + picture, ['photos/a #1.jpg', 'photos/b.jpg'], [['index.html', `${script}<h1 id="top">`]])).toEqual([]);
});

test.each([
  ['<a href="/index.html">', 'zones/a.html: absolute /index.html'],
  ['<a href="//example.org/x">', 'zones/a.html: absolute //example.org/x'],
  ['<a href="gone.html">', 'zones/a.html: nothing at gone.html'],
  ['<a href="#gone">', 'zones/a.html: no #gone in zones/a.html'],
  ['<a title="5 > 4" href="#gone">', 'zones/a.html: no #gone in zones/a.html'],
  ['<img srcset="../photos/a.jpg 1w, ../photos/gone.jpg 2w">', 'zones/a.html: nothing at ../photos/gone.jpg'],
  ['<img src="https://example.org/x.jpg">', 'zones/a.html: <img> takes https://example.org/x.jpg from outside the folder'],
  ['<a href="javascript:alert(1)">', 'zones/a.html: <a> takes javascript:alert(1) from outside the folder'],
  ['<link rel="stylesheet" href="/_astro/a.css">', 'zones/a.html: absolute /_astro/a.css'],
  ['<style>p { background: url("/x.png") }</style>', 'zones/a.html: url() in the styles'],
  ['<style>@import "x.css";</style>', 'zones/a.html: @import in the styles'],
  ['<p style="color:red">', 'zones/a.html: a style attribute'],
  ['<i id="x"></i><i id="x"></i>', 'zones/a.html: #x stands twice'],
])('%s is a fault', (body, fault) => {
  expect(faults(body, ['photos/a.jpg'])).toEqual([fault]);
});

test('words that look like tags, in attributes, hide no fault and make none', () => {
  expect(faults('<img alt="<script>" src="../photos/a.jpg"><p>5 &lt; 6</p><a title="</style><style>" href="gone.html">', ['photos/a.jpg'])).toEqual([
    'zones/a.html: nothing at gone.html',
  ]);
});

test('a script file and a script from outside are faults', () => {
  expect(faults('', ['_astro/page.js'])).toEqual(['_astro/page.js: a script file; mail services refuse those']);
  expect(faults('<script type="module" src="a.mjs"></script>', ['zones/a.mjs'])).toEqual([
    'zones/a.mjs: a script file; mail services refuse those',
    'zones/a.html: a script outside the page',
  ]);
});
