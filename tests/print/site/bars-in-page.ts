// All run in the page: nothing from outside of them is there.

export interface FocusStop {
  what: string;
  /** What shows the focus, and what it is seen against. */
  rings: { colour: string; grounds: string[] }[];
  /** What lies over it; null where nothing does. */
  covered: string | null;
}

/** Where the focus is; null where it has left the page or come round. */
export function focusStop(): FocusStop | null {
  const element = document.activeElement;
  if (!element || element === document.body || element.hasAttribute('data-stopped')) return null;
  element.setAttribute('data-stopped', '');
  const what = element.outerHTML.slice(0, 120);
  const groundOf = (start: Element | null): string => {
    for (let part = start; part; part = part.parentElement) {
      const { backgroundColor } = getComputedStyle(part);
      if (!/, 0\)$|transparent/.test(backgroundColor)) return backgroundColor;
    }
    return 'rgb(255, 255, 255)';
  };
  const style = getComputedStyle(element);
  const rings: FocusStop['rings'] = [];
  const inset = Number.parseFloat(style.outlineOffset) < 0;
  const area = element.querySelector(':scope > .area');
  if (area instanceof SVGPathElement) {
    // On the drawing: the outline of the area, on the sheet of the body.
    const drawn = getComputedStyle(area);
    const sheet = getComputedStyle(document.querySelector('.map .outline') ?? area).fill;
    if (Number.parseFloat(drawn.strokeWidth) >= 2) rings.push({ colour: drawn.stroke, grounds: [sheet] });
  } else if (style.outlineStyle !== 'none' && Number.parseFloat(style.outlineWidth) > 0) {
    // Over a photo any colour may be: then a second ring of the ground's colour has to stand beside the first.
    const beside = inset && element.querySelector('img') ? getComputedStyle(element, '::after') : null;
    if (!beside) rings.push({ colour: style.outlineColor, grounds: [groundOf(inset ? element : element.parentElement)] });
    else if (Number.parseFloat(beside.borderTopWidth) >= 2) rings.push({ colour: style.outlineColor, grounds: [beside.borderTopColor] });
  }
  const belongs = (found: Element | null): boolean => found !== null && (element.contains(found) || (element instanceof HTMLInputElement && [...(element.labels ?? [])].some((label) => label.contains(found))));
  const points: [number, number][] = [];
  if (area instanceof SVGPathElement) {
    // Its middle may be a hole of it.
    const toScreen = area.getScreenCTM();
    const { x, y, width, height } = area.getBBox();
    for (let step = 0; step < 900; step += 1) {
      const point = new DOMPoint(x + (width * ((step % 30) + 0.5)) / 30, y + (height * (Math.floor(step / 30) + 0.5)) / 30);
      const on = point.matrixTransform(toScreen ?? undefined);
      if (area.isPointInFill(point) && on.y > 0 && on.y < innerHeight) points.push([on.x, on.y]);
    }
  } else {
    const [box] = [...element.getClientRects()].filter(({ bottom, top }) => bottom > 0 && top < innerHeight);
    if (box) points.push([(Math.max(0, box.left) + Math.min(innerWidth, box.right)) / 2, (Math.max(0, box.top) + Math.min(innerHeight, box.bottom)) / 2]);
  }
  const found = points.map(([x, y]) => document.elementFromPoint(x, y));
  const hit = area ? found.filter(belongs).length > found.length / 2 : found.some(belongs);
  return { what, rings, covered: points.length === 0 ? 'outside of the window' : hit ? null : (found[0]?.outerHTML.slice(0, 120) ?? 'nothing there') };
}

/** Targets below 24 px either way that are not exempt; and how many targets there are. */
export function smallTargets(): { small: string[]; targets: number } {
  const scope = document.querySelector('dialog[open]') ?? document.body;
  const all = [...scope.querySelectorAll('a[href], button, input, select, summary, textarea, [tabindex="0"]')].filter((target) => {
    const { width, height } = target.getBoundingClientRect();
    return width > 0 && height > 0 && getComputedStyle(target).visibility !== 'hidden' && !target.matches('.skip:not(:focus)');
  });
  const boxOf = (target: Element): DOMRect => {
    const box = (target.closest('label') ?? target).getBoundingClientRect();
    // A line of the index shows the beginning of a long link; the rest of it is cut off and cannot be hit.
    const line = target.closest('.find-group li')?.getBoundingClientRect();
    return line ? new DOMRect(box.x, box.y, box.width, Math.min(box.bottom, line.bottom) - box.y) : box;
  };
  const boxes = new Map(all.map((target) => [target, boxOf(target)]));
  const tooSmall = (target: Element): boolean => {
    const { width, height } = boxes.get(target) ?? new DOMRect();
    // Layout works in 64ths of a pixel.
    return width < 23.98 || height < 23.98;
  };
  const exemptions: ((target: Element) => boolean)[] = [
    // Inline: in a sentence, its size is bound by the height of a line of words that are no target.
    (target) => {
      if (getComputedStyle(target).display !== 'inline') return false;
      let block = target.parentElement;
      while (block && getComputedStyle(block).display === 'inline') block = block.parentElement;
      const words = block?.textContent.trim().length ?? 0;
      const linked = [...(block?.querySelectorAll('a') ?? [])].reduce((sum, link) => sum + link.textContent.trim().length, 0);
      return words > linked;
    },
    // Equivalent: an area of the drawing, where the same zone's link stands in the list of zones or the register on this page.
    (target) => {
      if (!(target instanceof SVGAElement) || !target.closest('.map')) return false;
      const same = [...document.querySelectorAll('.zones a, table a')].filter((link) => link.getAttribute('href') === target.getAttribute('href'));
      return same.some((link) => !tooSmall(link));
    },
    // Equivalent: a dot of the time line, whose photo stands below with a link of its own.
    (target) => {
      if (!(target instanceof SVGAElement) || !target.closest('.timeline')) return false;
      const picture = document.querySelector(`[id="${(target.getAttribute('href') ?? '').split('#').at(-1)}"] a.picture`);
      return picture !== null && !tooSmall(picture);
    },
    // Spacing: a circle of 24 px round its middle meets neither another target nor such a circle of another small one.
    (target) => {
      const own = boxes.get(target) ?? new DOMRect();
      const [x, y] = [own.x + own.width / 2, own.y + own.height / 2];
      return all.every((other) => {
        if (other === target || other.contains(target) || target.contains(other)) return true;
        const box = boxes.get(other) ?? new DOMRect();
        const away = Math.hypot(x - Math.min(Math.max(x, box.left), box.right), y - Math.min(Math.max(y, box.top), box.bottom));
        const between = Math.hypot(x - box.x - box.width / 2, y - box.y - box.height / 2);
        return away >= 12 && (!tooSmall(other) || between >= 24);
      });
    },
  ];
  const small = all.filter((target) => tooSmall(target) && !exemptions.some((exempt) => exempt(target)));
  return { small: small.map((target) => `${Math.round(boxes.get(target)?.width ?? 0)} × ${Math.round(boxes.get(target)?.height ?? 0)}: ${target.outerHTML.slice(0, 160)}`), targets: all.length };
}

/** What makes the page wider than the window, or runs out of it to either side, where it can be read neither scrolled nor not. */
export function outOfPage(): string[] {
  const { clientWidth, scrollWidth } = document.documentElement;
  const out = [...document.querySelectorAll('main *, header *, footer *')].filter((part) => {
    const { left, right, width } = part.getBoundingClientRect();
    // Heads of a table turned into records are hidden so: each value has its own.
    return width > 1 && (left < -1 || right > clientWidth + 1) && !part.closest('.patterns, thead');
  });
  return [...(scrollWidth > clientWidth ? [`${scrollWidth} px wide`] : []), ...out.slice(0, 3).map((part) => part.outerHTML.slice(0, 200))];
}
