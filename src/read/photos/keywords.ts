/** `ESC % G` in record 1, dataset 90: the IPTC text is UTF-8 (IPTC IIM 4.2, 1:90). */
const declaredUtf8 = Buffer.from('1c015a00031b2547', 'hex');

const entities: Record<string, string> = { amp: '&', lt: '<', gt: '>', quot: '"', apos: "'" };

/** XML character references as the text they stand for. Unknown ones stay as written. */
function unescapeXml(text: string): string {
  return text.replace(/&(#x[0-9a-fA-F]{1,6}|#[0-9]{1,7}|[a-z]{2,4});/g, (whole, name: string) => {
    if (!name.startsWith('#')) return entities[name] ?? whole;
    const code = name.startsWith('#x') ? Number.parseInt(name.slice(2), 16) : Number(name.slice(1));
    return code > 0 && code <= 0x10ffff ? String.fromCodePoint(code) : whole;
  });
}

/** Text of each `rdf:li`, or the text itself where there is no list: dc:subject may be either. */
function itemsOf(inner: string): string[] {
  const items = inner.split(/<rdf:li\b[^>]*>/).slice(1);
  const texts = items.length > 0 ? items.map((item) => item.split('</rdf:li>')[0] ?? '') : [inner];
  return texts.map((text) => unescapeXml(text.replace(/<[^>]*>/g, '')).trim()).filter((text) => text !== '');
}

/**
 * All values of one XMP property, as element or as attribute. Written by hand because exifr turns the keyword "007"
 * into a number and takes quadratic time on hostile XMP; this takes one pass.
 * @param name with its customary prefix, `dc:subject`
 */
export function xmpValues(xmp: string, name: string): string[] {
  const found: string[] = [];
  for (let at = xmp.indexOf(name); at !== -1; at = xmp.indexOf(name, at + name.length)) {
    const after = at + name.length;
    const before = xmp[at - 1] ?? '';
    if (before === '<') {
      const open = xmp.indexOf('>', after);
      const close = open === -1 ? -1 : xmp.indexOf(`</${name}>`, open);
      if (close === -1 || xmp[open - 1] === '/' || !/[\s>]/.test(xmp[after] ?? '')) continue;
      found.push(...itemsOf(xmp.slice(open + 1, close)));
      at = close;
    } else if (/\s/.test(before) && /["']/.test(xmp[after + 1] ?? '') && xmp[after] === '=') {
      const close = xmp.indexOf(xmp[after + 1] ?? '', after + 2);
      if (close === -1) continue;
      found.push(...itemsOf(xmp.slice(after + 2, close)));
      at = close;
    }
  }
  return found;
}

/**
 * Keywords set in a photo manager: dc:subject, lr:hierarchicalSubject, IPTC keywords (2:25), as written, each once.
 * Of a hierarchical one, `Car|Sill, left`, the leaf stands as a keyword of its own too.
 */
export function keywordsOf(xmp: string, iptcKeywords: string[]): string[] {
  const found = [...xmpValues(xmp, 'dc:subject'), ...iptcKeywords];
  for (const path of xmpValues(xmp, 'lr:hierarchicalSubject')) {
    found.push(path);
    const leaf = path.split('|').at(-1)?.trim() ?? '';
    if (leaf !== '') found.push(leaf);
  }
  return [...new Set(found)];
}

/** IPTC text comes as Latin-1; where the file declares UTF-8 it is decoded again. */
export function iptcText(values: unknown, file: Buffer): string[] {
  const list: unknown[] = Array.isArray(values) ? values : values === undefined ? [] : [values];
  const texts = list.filter((value) => typeof value === 'string');
  if (texts.length === 0) return [];
  const utf8 = file.includes(declaredUtf8);
  return texts
    .map((text) => (utf8 ? Buffer.from(text, 'latin1').toString('utf8') : text))
    .map((text) => (text.split('\0')[0] ?? '').trim())
    .filter((text) => text !== '');
}
