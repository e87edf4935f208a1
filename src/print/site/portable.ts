import path from 'node:path';

const tagPattern = /<([a-zA-Z][a-zA-Z0-9-]*)((?:[^>"']|"[^"]*"|'[^']*')*)>/g;
const attributePattern = /\s([a-zA-Z-]+)="([^"]*)"/g;
/** All that is looked at; most tags of a page have none of them. */
const lookedAt = /^(?:id|href|src|srcset|poster|action|data|style)$/i;
const hasLookedAt = /\s(?:id|href|src|srcset|poster|action|data|style)=/i;

interface Tag {
  name: string;
  /** Those that are looked at. */
  attributes: { name: string; value: string }[];
  /** Text of a script or style, empty for all others. */
  inside: string;
}

/**
 * What would keep the pages from opening from a folder on disk: absolute, dangling or doubled links and anchors,
 * scripts and styles outside the page, `style` attributes (the content policy refuses them). Each fault is one line.
 * @param pages HTML by file (`zones/sill-left.html`).
 * @param files other files of the folder, with `/`.
 */
export function portableFaults(pages: ReadonlyMap<string, string>, files: Iterable<string>): string[] {
  const known = new Set([...pages.keys(), ...files]);
  const tags = new Map([...pages].map(([page, html]) => [page, tagsOf(html)]));
  const ids = new Map([...tags].map(([page, all]) => [page, attributesNamed(all, 'id')]));
  const anchors = new Map([...ids].map(([page, all]) => [page, new Set(all)]));
  const faults = [...known].filter((file) => /\.[cm]?js$/.test(file)).map((file) => `${file}: a script file; mail services refuse those`);
  for (const [page, all] of tags) {
    const styles = all.filter((tag) => tag.name === 'style').map((tag) => tag.inside);
    const say = (fault: string): number => faults.push(`${page}: ${fault}`);
    for (const id of doubled(ids.get(page) ?? [])) say(`#${id} stands twice`);
    if (styles.some((css) => /url\(\s*["']?(?!data:)/.test(css))) say('url() in the styles');
    if (styles.some((css) => css.includes('@import'))) say('@import in the styles');
    const scripts = all.filter((tag) => tag.name === 'script');
    if (scripts.length === 0) say('no script, where the frame has one');
    if (attributesNamed(scripts, 'src').length > 0) say('a script outside the page');
    if (attributesNamed(all, 'style').length > 0) say('a style attribute');
    for (const fault of linkFaults(page, all, known, anchors)) say(fault);
  }
  return faults;
}

function linkFaults(page: string, tags: readonly Tag[], known: ReadonlySet<string>, anchors: ReadonlyMap<string, ReadonlySet<string>>): string[] {
  const faults: string[] = [];
  for (const tag of tags) {
    for (const url of addressesOf(tag)) {
      // A picture that brings its content along is nowhere else.
      if (tag.name === 'img' && url.startsWith('data:')) continue;
      if (/^[a-z][a-z0-9+.-]*:/i.test(url)) {
        if (tag.name !== 'a' || !/^(https?|mailto|tel):/i.test(url)) faults.push(`<${tag.name}> takes ${url} from outside the folder`);
        continue;
      }
      if (url.startsWith('/')) {
        faults.push(`absolute ${url}`);
        continue;
      }
      const [, file = '', anchor] = /^([^#]*)(?:#(.*))?$/.exec(url) ?? [];
      const target = file === '' ? page : path.posix.join(path.posix.dirname(page), decodeURIComponent(file));
      if (!known.has(target)) faults.push(`nothing at ${url}`);
      // No anchor holds a "=": such an address is a choice on the page it leads to.
      else if (anchor !== undefined && !anchor.includes('=') && !anchors.get(target)?.has(anchor)) faults.push(`no #${anchor} in ${target}`);
    }
  }
  return [...new Set(faults)];
}

function doubled(ids: readonly string[]): Set<string> {
  const seen = new Set<string>();
  return new Set(ids.filter((id) => seen.size === seen.add(id).size));
}

function addressesOf(tag: Tag): string[] {
  return tag.attributes.flatMap(({ name, value }) => {
    if (['href', 'src', 'poster', 'action', 'data'].includes(name)) return [value];
    return name === 'srcset' ? value.split(',').map((candidate) => candidate.trim().split(/\s+/)[0] ?? '') : [];
  });
}

function attributesNamed(tags: readonly Tag[], name: string): string[] {
  return tags.flatMap((tag) => tag.attributes.filter((attribute) => attribute.name === name).map(({ value }) => value));
}

/** Tags of Astro's own output that anything is looked at of, where `<` in text is always escaped; what stands inside script and style are no tags. */
function tagsOf(html: string): Tag[] {
  const tags: Tag[] = [];
  const pattern = new RegExp(tagPattern);
  for (let match = pattern.exec(html); match; match = pattern.exec(html)) {
    const [, name = '', rest = ''] = match;
    const attributes = hasLookedAt.test(rest) ? attributesOf(rest) : [];
    const tag: Tag = { name: name.toLowerCase(), attributes, inside: '' };
    if (tag.name === 'script' || tag.name === 'style') {
      const end = html.indexOf(`</${name}`, pattern.lastIndex);
      tag.inside = html.slice(pattern.lastIndex, end === -1 ? undefined : end);
      pattern.lastIndex += tag.inside.length;
    }
    if (attributes.length > 0 || tag.name === 'script' || tag.name === 'style') tags.push(tag);
  }
  return tags;
}

function attributesOf(rest: string): Tag['attributes'] {
  const attributes: Tag['attributes'] = [];
  for (const [, name = '', value = ''] of rest.matchAll(attributePattern)) if (lookedAt.test(name)) attributes.push({ name: name.toLowerCase(), value: unescaped(value) });
  return attributes;
}

function unescaped(value: string): string {
  if (!value.includes('&')) return value;
  return value.replaceAll('&#34;', '"').replaceAll('&quot;', '"').replaceAll('&#39;', "'").replaceAll(/&amp;|&#38;/g, '&');
}
