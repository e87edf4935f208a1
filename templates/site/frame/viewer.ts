import type { Words } from '../../../src/model/printed-words.ts';

/** Carried by the page: scripts hold no words. */
const words = JSON.parse(document.body.dataset['viewer'] ?? '{}') as Words['viewer'];

/**
 * Opens a photo over the page instead of leaving it: arrow keys and buttons go on, round at either end, Home and End go
 * to the ends, Esc closes, focus returns to the photo it came from. Without this script the same links simply open the
 * picture. A link with a photo's anchor leads to the photo in its page and opens nothing.
 */
export function openPhotosInPlace(): void {
  const links = [...document.querySelectorAll<HTMLAnchorElement>('a.picture')];
  // A photo that was never scrolled to can be missing on paper. From disk nothing is saved by waiting for that.
  const fetchAll = (): void => {
    for (const { firstElementChild } of links) if (firstElementChild instanceof HTMLImageElement) firstElementChild.loading = 'eager';
  };
  addEventListener(location.protocol === 'file:' ? 'load' : 'beforeprint', fetchAll);
  if (links.length === 0 || typeof HTMLDialogElement === 'undefined') return;

  // A photo that stands in several places of a page is one photo: the first of its links goes for all.
  const photos = [...new Map([...links].reverse().map((link) => [link.href, link])).values()].reverse();
  const several = photos.length > 1;
  const viewer = makeViewer(several);
  const { dialog, caption, previous, next, close } = viewer;
  let at = 0;
  const around = (index: number): number => (index + photos.length) % photos.length;
  const show = (index: number, opened?: HTMLAnchorElement): void => {
    at = around(index);
    const link = opened ?? photos[at];
    if (!link) return;
    fill(viewer, link, at + 1, photos.length);
    previous.textContent = at === 0 ? words.toLast : words.previous;
    next.textContent = at === photos.length - 1 ? words.toFirst : words.next;
    for (const neighbour of [photos[around(at + 1)], photos[around(at - 1)]]) if (neighbour) new Image().src = pictureOf(neighbour);
  };
  previous.addEventListener('click', () => show(at - 1));
  next.addEventListener('click', () => show(at + 1));
  dialog.addEventListener('keydown', (event) => {
    if (event.altKey || event.ctrlKey || event.metaKey || !several) return;
    // A long caption that has the focus is scrolled by these two.
    const ends = event.target === caption ? {} : { Home: 0, End: photos.length - 1 };
    const to = new Map(Object.entries({ ArrowLeft: at - 1, ArrowRight: at + 1, ...ends })).get(event.key);
    if (to === undefined) return;
    event.preventDefault();
    show(to);
  });
  for (const link of links) {
    link.addEventListener('click', (event) => {
      if (event.button !== 0 || event.ctrlKey || event.metaKey || event.shiftKey || event.altKey) return;
      event.preventDefault();
      // Some browsers do not focus a link that is clicked; focus returns to what has it now.
      link.focus({ preventScroll: true });
      show(photos.findIndex((photo) => photo.href === link.href), link);
      dialog.showModal();
      (several ? next : close).focus();
      markScrollable(caption);
    });
  }
}

interface Viewer {
  dialog: HTMLDialogElement;
  frame: HTMLElement;
  image: HTMLImageElement;
  caption: HTMLElement;
  count: HTMLElement;
  previous: HTMLButtonElement;
  next: HTMLButtonElement;
  close: HTMLButtonElement;
  /** To the picture by itself, and to the photo's lasting place. */
  file: HTMLAnchorElement;
  permanent: HTMLAnchorElement;
}

function makeViewer(several: boolean): Viewer {
  const [dialog, image, caption, count] = [make('dialog', 'viewer'), make('img'), make('div', 'caption'), make('span', 'count')];
  const [previous, next, close] = [make('button'), make('button'), make('button')];
  for (const button of [previous, next, close]) button.type = 'button';
  const [file, permanent] = [make('a'), make('a')];
  const [bar, stage, frame, more] = [make('p', 'bar'), make('div', 'stage'), make('div', 'frame'), make('p', 'more')];
  caption.setAttribute('aria-live', 'polite');
  // Heard in the caption.
  count.setAttribute('aria-hidden', 'true');
  permanent.textContent = words.permanent;
  close.textContent = words.close;
  close.addEventListener('click', () => dialog.close());
  bar.append(...(several ? [previous, next, count] : []), close);
  stage.append(frame);
  more.append(file, permanent);
  dialog.append(bar, stage, caption, more);
  document.body.append(dialog);
  // Links but the one to the picture lead to places behind the dialog.
  dialog.addEventListener('click', (event) => {
    const link = event.target instanceof Element ? event.target.closest('a') : null;
    if (link && link !== file) dialog.close();
  });
  addEventListener('resize', () => markScrollable(caption));
  return { dialog, frame, image, caption, count, previous, next, close, file, permanent };
}

/** Puts a photo of the page, its marks, its words and its time into the viewer. */
function fill({ dialog, frame, image, caption, count, file, permanent }: Viewer, link: HTMLAnchorElement, number: number, all: number): void {
  const small = link.querySelector('img');
  if (!small) return;
  image.src = pictureOf(link);
  image.alt = small.alt;
  // Of the large rendition, so that the frame stands before the picture has come.
  for (const name of ['width', 'height']) image.setAttribute(name, small.getAttribute(name) ?? '');
  frame.style.setProperty('--ratio', String(Number(small.getAttribute('width')) / Number(small.getAttribute('height'))));
  const marks = link.querySelector('.marks');
  frame.replaceChildren(image, ...(marks ? [marks.cloneNode(true)] : []));
  file.textContent = marks ? words.unmarked : words.file;
  // In a file with everything in it there is no picture by itself.
  file.hidden = link.hash !== '';
  file.href = link.href;
  permanent.hidden = link.dataset['permanent'] === undefined;
  permanent.setAttribute('href', link.dataset['permanent'] ?? '');
  count.textContent = `${number} / ${all}`;
  const place = `${words.title} ${number} ${words.of} ${all}`;
  dialog.setAttribute('aria-label', `${place}: ${small.alt}`);
  const heard = make('p', 'heard');
  heard.textContent = `${place}.`;
  const taken = make('p');
  // Nothing where the caption has said it all.
  taken.textContent = link.dataset['taken'] ? `${link.dataset['taken']}.` : '';
  const said = [...(link.closest('figure')?.querySelector('figcaption')?.childNodes ?? [])].map((node) => node.cloneNode(true));
  caption.replaceChildren(heard, ...said, taken);
  caption.scrollTop = 0;
  markScrollable(caption);
}

/** Address of a photo's large picture. In a file with everything in it the link leads to the figure that has it. */
function pictureOf(link: HTMLAnchorElement): string {
  return link.hash === '' ? link.href : (document.querySelector<HTMLImageElement>(`${link.hash} img`)?.src ?? '');
}

/** What has to be scrolled can be reached by keyboard, in every browser. */
function markScrollable(part: HTMLElement): void {
  if (part.scrollHeight > part.clientHeight) part.tabIndex = 0;
  else part.removeAttribute('tabindex');
}

function make<Name extends keyof HTMLElementTagNameMap>(name: Name, className = ''): HTMLElementTagNameMap[Name] {
  const made = document.createElement(name);
  if (className !== '') made.className = className;
  return made;
}
