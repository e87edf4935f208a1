import { execFileSync, spawnSync } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { checkToken } from '../../src/seal/timestamp.ts';
import { scratch } from '../commands/command-line.ts';

// The reference is openssl: it makes the authority and judges the same tokens.
const place = scratch();
const at = (name: string): string => path.join(place.folder, name);
const openssl = (...args: string[]): void => void execFileSync('openssl', args, { cwd: place.folder, stdio: 'pipe' });
const opensslAgrees = (token: string): boolean => spawnSync('openssl', ['ts', '-verify', '-data', 'list', '-in', token, '-CAfile', 'root.pem'], { cwd: place.folder }).status === 0;

beforeAll(() => {
  writeFileSync(at('tsa.cnf'), '[tsa]\ndefault_tsa = t\n[t]\nserial = serial\nsigner_digest = sha256\ndefault_policy = 1.2.3.4.1\ndigests = sha256, sha512\ness_cert_id_alg = sha256\n[ext]\nextendedKeyUsage = critical,timeStamping\n');
  writeFileSync(at('serial'), '01\n');
  writeFileSync(at('list'), 'a list\n');
  writeFileSync(at('other'), 'another list\n');
  openssl('req', '-x509', '-newkey', 'rsa:2048', '-nodes', '-keyout', 'root.key', '-out', 'root.pem', '-subj', '/CN=Root', '-days', '30');
  openssl('req', '-newkey', 'rsa:2048', '-nodes', '-keyout', 'tsa.key', '-out', 'tsa.csr', '-subj', '/CN=Authority');
  openssl('x509', '-req', '-in', 'tsa.csr', '-CA', 'root.pem', '-CAkey', 'root.key', '-CAcreateserial', '-out', 'tsa.pem', '-extfile', 'tsa.cnf', '-extensions', 'ext', '-days', '30');
  for (const name of ['list', 'other']) {
    openssl('ts', '-query', '-data', name, '-sha512', '-cert', '-out', `${name}.tsq`);
    openssl('ts', '-reply', '-config', 'tsa.cnf', '-queryfile', `${name}.tsq`, '-signer', 'tsa.pem', '-inkey', 'tsa.key', '-out', `${name}.tsr`);
  }
});
afterAll(() => place.remove());

test('a good token holds, and one over other bytes does not, for openssl and for us', async () => {
  const list = readFileSync(at('list'));
  const good = await checkToken(readFileSync(at('list.tsr')), list);
  expect(good).toMatchObject({ faults: [], signer: 'Authority', time: expect.stringMatching(/^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\dZ$/) });
  expect(opensslAgrees('list.tsr')).toBe(true);
  const wrong = await checkToken(readFileSync(at('other.tsr')), list);
  expect(wrong.faults).toEqual([expect.stringContaining('over other bytes')]);
  expect(opensslAgrees('other.tsr')).toBe(false);
});

test('what openssl refuses of an altered token, we refuse', { timeout: 120_000 }, async () => {
  const token = readFileSync(at('list.tsr'));
  const list = readFileSync(at('list'));
  const lenient: number[] = [];
  for (let byte = 0; byte < token.length; byte += 23) {
    const altered = Buffer.from(token);
    altered[byte] = (altered[byte] ?? 0) ^ 1;
    writeFileSync(at('altered.tsr'), altered);
    const { faults } = await checkToken(altered, list);
    if (!opensslAgrees('altered.tsr') && faults.length === 0) lenient.push(byte);
  }
  expect(lenient).toEqual([]);
});

test('what is no token is said to be none', async () => {
  expect((await checkToken(Buffer.from('no token'), Buffer.alloc(0))).faults).toHaveLength(1);
  expect((await checkToken(Buffer.alloc(0), Buffer.alloc(0))).faults).toHaveLength(1);
});
