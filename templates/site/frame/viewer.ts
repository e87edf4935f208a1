import { words } from '../words.ts';

/**
 * Opens a photo over the page instead of leaving it: arrow keys and buttons go on, Esc closes, focus returns to the
 * photo it came from. Without this script the same links simply open the picture.
 */
export function openPhotosInPlace(): void {
  const links = [...document.querySelectorAll<HTMLAnchorElement>('a.picture')];
  // A photo that was never scrolled to can be missing on paper. From disk nothing is saved by waiting for that.
  const fetchAll = (): void => {
    for (const { firstElementChild } of links) if (firstElementChild instanceof HTMLImageElement) firstElementChild.loading = 'eager';
  };
  addEventListener(location.protocol === 'file:' ? 'load' : 'beforeprint', fetchAll);
  if (links.length === 0 || typeof HTMLDialogElement === 'undefined') return;

  const dialog = document.createElement('dialog');
  dialog.className = 'viewer';
  dialog.setAttribute('aria-label', words.viewer.title);
  const stage = document.createElement('div');
  stage.className = 'stage';
  const frame = document.createElement('div');
  frame.className = 'frame';
  stage.append(frame);
  const image = document.createElement('img');
  const caption = document.createElement('div');
  caption.className = 'caption';
  caption.setAttribute('aria-live', 'polite');
  const bar = document.createElement('p');
  bar.className = 'bar';
  const count = document.createElement('span');
  const file = document.createElement('a');
  let at = 0;

  const show = (next: number): void => {
    at = (next + links.length) % links.length;
    const link = links[at];
    const small = link?.querySelector('img');
    if (!link || !small) return;
    image.src = link.href;
    image.alt = small.alt;
    // Of the large rendition, so that the frame stands before the picture has come.
    for (const name of ['width', 'height']) image.setAttribute(name, small.getAttribute(name) ?? '');
    frame.style.setProperty('--ratio', String(Number(small.getAttribute('width')) / Number(small.getAttribute('height'))));
    const marks = link.querySelector('.marks');
    frame.replaceChildren(image, ...(marks ? [marks.cloneNode(true)] : []));
    file.textContent = marks ? words.viewer.unmarked : words.viewer.file;
    file.href = link.href;
    count.textContent = `${at + 1} / ${links.length}`;
    caption.replaceChildren(...[...(link.parentElement?.querySelector('figcaption')?.childNodes ?? [])].map((node) => node.cloneNode(true)));
  };
  const button = (label: string, act: () => void): HTMLButtonElement => {
    const made = document.createElement('button');
    made.type = 'button';
    made.textContent = label;
    made.addEventListener('click', act);
    return made;
  };
  bar.append(
    ...(links.length > 1 ? [button(words.viewer.previous, () => show(at - 1)), button(words.viewer.next, () => show(at + 1)), count] : []),
    file,
    button(words.viewer.close, () => dialog.close()),
  );
  dialog.append(bar, stage, caption);
  document.body.append(dialog);

  dialog.addEventListener('keydown', (event) => {
    if (event.altKey || event.ctrlKey || event.metaKey || links.length < 2) return;
    if (event.key === 'ArrowLeft') show(at - 1);
    else if (event.key === 'ArrowRight') show(at + 1);
  });
  // A link of the caption leads to a place behind the dialog.
  caption.addEventListener('click', (event) => {
    if (event.target instanceof Element && event.target.closest('a')) dialog.close();
  });
  for (const [index, link] of links.entries()) {
    link.addEventListener('click', (event) => {
      if (event.button !== 0 || event.ctrlKey || event.metaKey || event.shiftKey || event.altKey) return;
      event.preventDefault();
      show(index);
      dialog.showModal();
    });
  }
}
