import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { z } from 'zod';
import { parseSettings } from '../../src/read/settings.ts';
import { settingsSchema } from '../../src/model/settings.ts';

test('defaults, and what is written', () => {
  expect(parseSettings('{}')).toEqual({ settings: { units: 'mm', language: 'en-GB' }, notices: [] });
  expect(parseSettings('{"currency": "GBP", "units": "in"}').settings).toMatchObject({ currency: 'GBP', units: 'in' });
});

test('lengths follow the language where no unit is written, and a language asked for goes before the one written', () => {
  expect(parseSettings('{"language": "en-US"}').settings).toEqual({ units: 'in', language: 'en-US' });
  expect(parseSettings('{"language": "en-US", "units": "mm"}').settings).toEqual({ units: 'mm', language: 'en-US' });
  expect(parseSettings('{"language": "en-US"}', 'en-GB').settings).toEqual({ units: 'mm', language: 'en-GB' });
  expect(parseSettings('no JSON', 'en-US').settings).toEqual({ units: 'in', language: 'en-US' });
});

test('a slip is answered with its place and what was expected', () => {
  expect(parseSettings('{\n  "units": "cm"\n}').notices[0]).toMatchObject({ level: 'error', rule: 'setting-unclear', spot: { line: 2, column: 3 }, found: '"cm" for "units"', expected: '"mm" or "in"' });
  expect(parseSettings('{"curency": "EUR"}').notices[0]).toMatchObject({ level: 'note', rule: 'setting-unknown', advice: 'Did you mean "currency"?' });
  expect(parseSettings('{"currency": "QQQ"}').notices[0]).toMatchObject({ level: 'error', rule: 'setting-unclear', found: '"QQQ" for "currency"' });
  expect(parseSettings('[]').notices[0]).toMatchObject({ level: 'error', rule: 'settings-unreadable' });
  expect(parseSettings('{"a": }').notices[0]).toMatchObject({ level: 'error', rule: 'settings-unreadable', spot: { line: 1 } });
});

test('the schema kept for editors is the one that checks', () => {
  const schema = { title: 'sillbook.json', ...z.toJSONSchema(settingsSchema, { io: 'input' }) };
  expect(JSON.parse(readFileSync('templates/job/sillbook.schema.json', 'utf8'))).toEqual(schema);
});
