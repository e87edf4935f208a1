import { execFileSync, spawnSync } from 'node:child_process';
import { createRequire } from 'node:module';
import path from 'node:path';
import { expect, test } from 'vitest';

/** A JDK is needed, which compiles the checker as it runs it; `java` alone may be a runtime only. */
const hasJdk = /jdk\.compiler@/.test(spawnSync('java', ['--list-modules'], { encoding: 'utf8' }).stdout ?? '');

/** Whether veraPDF can be asked; in CI, which installs a JDK, a missing one fails instead. */
export function canAsk(): boolean {
  return hasJdk || Boolean(process.env['CI']);
}

/** The one test of a file where there is no JDK: it says so. */
export function testWithoutJdk(): void {
  test('no JDK on this machine: veraPDF was not asked (install default-jdk-headless)', ({ annotate }) => {
    void annotate('No JDK found: PDF/A and PDF/UA were checked by structure only (planted.test.ts).');
    expect(hasJdk).toBe(false);
  });
}

/** A profile of veraPDF: PDF/A-2a, PDF/A-3a, PDF/UA-1. */
export type Profile = '2a' | '3a' | 'ua1';

/** The rules a file breaks, each with how often and where first. Throws where nothing was looked at. */
export function brokenRules(checks: readonly { profile: Profile; file: string }[]): string[][] {
  const engine = path.resolve(path.dirname(createRequire(import.meta.url).resolve('@opendataloader/pdf')), '../lib/opendataloader-pdf-cli.jar');
  const wanted = checks.map(({ profile, file }) => `${profile}=${file}`);
  const told = execFileSync('java', ['-Xmx1g', '-cp', engine, path.join(import.meta.dirname, 'Archive.java'), ...wanted], { encoding: 'utf8', maxBuffer: 1 << 26 });
  const broken: string[][] = [];
  let rules: string[] = [];
  for (const line of told.split('\n')) {
    const [word, ...fields] = line.split('\t');
    if (word === 'failed') rules.push(fields.join(' '));
    if (word !== 'checked') continue;
    if (fields[1] !== wanted[broken.length] || !(Number(fields[0]) > 30)) throw new Error(`veraPDF did not look at ${wanted[broken.length]}: ${line}`);
    broken.push(rules);
    rules = [];
  }
  if (broken.length !== checks.length) throw new Error(`veraPDF stopped before its end: ${told.slice(-2000)}`);
  return broken;
}
