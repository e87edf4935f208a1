import { zoneRecordSchema } from '../../model/catalogue.ts';
import type { ZoneRecord } from '../../model/catalogue.ts';
import { checked, common, open, section, texts } from './kinds.ts';
import { keyValue, openKeys, recordError, wordList } from './records.ts';
import type { RecordItem, RecordText } from './records.ts';

/** A zone record: keys as in content/README.md, sections Look at, Openings, Cavities. `bodyIds` are all body types. */
export function zoneOf(record: RecordText, bodyIds: readonly string[]): ZoneRecord {
  const keys = open(record, ['look at', 'openings', 'cavities']);
  const value = {
    ...common(record, keys),
    order: keys.number('order'),
    sided: keys.yes('sided'),
    carries: keys.text('carries'),
    mountings: keys.words('mountings'),
    bodies: bodiesOf(keys.text('bodies') ?? '', bodyIds),
    rearDoors: keys.yes('rear doors'),
    waterIn: keys.text('water in'),
    waterOut: keys.text('water out'),
    cautions: keys.words('cautions'),
    lookAt: texts(record, 'look at'),
    openings: section(record, 'openings').map((item) => openingOf(item, record)),
    cavities: section(record, 'cavities').map((item) => cavityOf(item, record)),
  };
  keys.done();
  const named: Record<string, string> = { waterIn: 'water in', waterOut: 'water out', lookAt: 'look at' };
  return checked(zoneRecordSchema, value, record, (field) => {
    const words = named[field] ?? field;
    return record.sections.get(words)?.line ?? keys.line(words);
  });
}

/** `all`, `all but van, pickup`, or a list of body ids. */
function bodiesOf(text: string, all: readonly string[]): string[] {
  if (text === 'all') return [...all];
  if (!text.startsWith('all but ')) return wordList(text);
  const without = wordList(text.slice('all but '.length));
  const unknown = without.filter((id) => !all.includes(id));
  // An unknown id is kept, so that the check of references names it.
  return [...all.filter((id) => !without.includes(id)), ...unknown];
}

/** `drain-slot, bottom seam: road spray -> outer-cell` */
function openingOf(item: RecordItem, record: RecordText): { part: string; place: string; exposure: string; cavity: string } {
  const found = /^([a-z-]+)(?:, ([^:]+))?: (.+) -> ([a-z-]+)$/.exec(item.text);
  if (!found) {
    throw recordError(record.file, item.line, `is no opening: "${item.text}"; expected "part, place: exposure -> cavity"`);
  }
  return { part: found[1] ?? '', place: found[2] ?? '', exposure: found[3] ?? '', cavity: found[4] ?? '' };
}

/** `outer-cell: outer cell` with walls, sheet, area, carries load and hours under it. */
function cavityOf(item: RecordItem, record: RecordText): Record<string, unknown> {
  const head = keyValue(item.text);
  if (!head?.value) throw recordError(record.file, item.line, `is no cavity: "${item.text}"; expected "id: name"`);
  const keys = openKeys(item.children, record.file, item.line);
  const sheetMm = keys.number('sheet', 'mm');
  const areaM2 = keys.number('area', 'm²');
  const walls = keys.words('walls');
  const hours = (keys.text('hours') ?? '').split('/').map((part) => part.trim());
  const carriesLoad = keys.yes('carries load');
  keys.done();
  if (hours.length !== 3 || !hours.every((part) => /^\d+(\.\d+)?$/.test(part))) {
    throw recordError(record.file, keys.line('hours'), 'needs "hours: low / likely / high"');
  }
  if (sheetMm === undefined || areaM2 === undefined || walls.length === 0) {
    throw recordError(record.file, item.line, `needs walls, sheet and area under the cavity "${head.key}"`);
  }
  return { id: head.key, name: head.value, walls, sheetMm, areaM2, carriesLoad, replaceHours: hours.map(Number) };
}
