import { readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { expect, test } from 'vitest';
import { blockSchema } from '../../../src/model/dossier.ts';
import { templates } from '../../../src/print/site/config.ts';

const files = readdirSync(templates, { recursive: true, encoding: 'utf8' }).filter((file) => /\.(astro|ts)$/.test(file));
const textOf = (file: string): string => readFileSync(path.join(templates, file), 'utf8');

test('each block type has one component, and there are no others', () => {
  const types = blockSchema.options.map((option) => option.shape.type.value);
  const components = readdirSync(path.join(templates, 'blocks')).map((file) => file.replace(/\.astro$/, '').toLowerCase());
  expect(components.sort()).toEqual([...types].sort());
  const printed = [...textOf('parts/Blocks.astro').matchAll(/case '([a-z]+)':/g)].map(([, type]) => type);
  expect(printed.sort()).toEqual([...types].sort());
});

test('templates take types from the program, and what runs only as the two modules made for them; no script of a page takes either', () => {
  for (const file of files) {
    const lines = textOf(file).split('\n').filter((line) => line.includes('src/') && /\b(import|from)\b/.test(line));
    for (const line of lines) expect(line, file).toMatch(/^import type |^\s*(?:export )?const (?:site|words): import\(/);
    const modules = [...textOf(file).matchAll(/from '(virtual:[^']*)'/g)].map(([, name]) => name);
    expect(['virtual:dossier', 'virtual:words'], file).toEqual(expect.arrayContaining(modules));
    if (file.endsWith('.ts')) expect(modules, file).toEqual([]);
  }
});

test('templates set no raw HTML and no styles of their own; scripts stand in the frame and in the two parts that need more', () => {
  for (const file of files) expect(textOf(file), file).not.toMatch(/set:html|set:text|is:inline|is:raw|define:vars|<style|\sstyle=/);
  expect(files.filter((file) => textOf(file).includes('<script'))).toEqual(['frame/Frame.astro', 'parts/CheckOriginals.astro', 'parts/Find.astro']);
});
