import { foundWords, originalsWords, type CheckWords } from './originals-said.ts';
import { compareFiles, countKinds, isHidden, listText, readPasted, type Given, type Listed } from './compare-files.ts';

/**
 * Compares original files a reader drops or chooses with the table of hashes on this page. Files are read one after the
 * other, so that hundreds of photos are never in memory together; nothing leaves the page.
 */
export function checkOriginalsInPlace(): void {
  const host = document.querySelector<HTMLElement>('.originals');
  const here = host?.querySelector<HTMLElement>('.here');
  const byHand = host?.querySelector<HTMLElement>('.by-hand');
  if (!host || !here || !byHand) return;
  const say = JSON.parse(host.dataset['say'] ?? '') as CheckWords;
  if (!canHash()) {
    const note = document.createElement('p');
    note.textContent = say.cannot;
    byHand.before(note);
    return;
  }
  byHand.hidden = true;
  here.hidden = false;
  const section = host.closest('section') ?? document.body;
  const listSha256 = host.dataset['list'] ?? '';
  takeFiles(here, say, () => listedOn(section), listSha256);
  takePasted(here, say, listSha256);
}

/** Some browsers have no hashing in pages opened from disk. */
function canHash(): boolean {
  return typeof (globalThis.crypto as Crypto | undefined)?.subtle?.digest === 'function';
}

async function hashOf(bytes: BufferSource): Promise<string> {
  const digest = await crypto.subtle.digest('SHA-256', bytes);
  return [...new Uint8Array(digest)].map((byte) => byte.toString(16).padStart(2, '0')).join('');
}

function hashOfText(text: string): Promise<string> {
  return hashOf(new TextEncoder().encode(text));
}

/** The table of originals: path first, hash last; of a file that could not be read, words. */
function listedOn(section: Element): Listed[] {
  return [...section.querySelectorAll('table')].flatMap((table) => {
    const rows = [...table.querySelectorAll('tbody tr')].map((row) => ({ path: lineOf(row.firstElementChild), sha256: lineOf(row.lastElementChild) }));
    return rows.some(({ sha256 }) => isHash(sha256)) ? rows.map(({ path, sha256 }) => ({ path, sha256: isHash(sha256) ? sha256 : '' })) : [];
  });
}

function isHash(text: string): boolean {
  return /^[0-9a-f]{64}$/.test(text);
}

/** Text of a cell as it was written: a line break in a name stands as an element. */
function lineOf(cell: Element | null): string {
  const words = cell?.querySelector('.cell')?.cloneNode(true) as Element | undefined;
  for (const end of words?.querySelectorAll('br') ?? []) end.replaceWith('\n');
  return words?.textContent ?? '';
}

function takeFiles(here: HTMLElement, say: CheckWords, list: () => readonly Listed[], listSha256: string): void {
  const status = here.querySelector('.counts');
  const lines = here.querySelector('.found');
  const progress = here.querySelector('progress');
  const button = (act: string): HTMLButtonElement | null => here.querySelector<HTMLButtonElement>(`[data-act="${act}"]`);
  if (!status || !lines || !progress) return;
  let given: Given[] = [];
  let waiting: File[] = [];
  let run: { done: Given[]; stopped: boolean } | null = null;
  let notes: string[] = [];

  const tell = async (): Promise<void> => {
    const listed = list();
    const found = compareFiles(listed, given, listSha256);
    const own = await hashOfText(listText(listed));
    status.textContent = [originalsWords(say, listed.length, countKinds(found)), ...notes, ...(own === listSha256 ? [] : [say.tableOther])].join(' ');
    lines.replaceChildren(...found.filter(({ kind }) => kind !== 'dossier').map((one) => itemOf(one.kind, one.name, foundWords(say, one))));
  };
  const busy = (is: boolean): void => {
    // A button that goes takes the focus with it: it is handed on, and otherwise left alone.
    const gone = ['files', 'folder', 'stop', 'again'].some((act) => button(act) === document.activeElement);
    progress.hidden = !is;
    for (const act of ['files', 'folder']) button(act)?.toggleAttribute('disabled', is);
    button('stop')?.toggleAttribute('hidden', !is);
    button('again')?.toggleAttribute('hidden', is || given.length === 0);
    if (gone) button(is ? 'stop' : 'files')?.focus();
  };
  const work = async (): Promise<void> => {
    const mine: NonNullable<typeof run> = { done: [], stopped: false };
    run = mine;
    progress.value = 0;
    busy(true);
    status.textContent = say.reading;
    for (let file = waiting.shift(); file && !mine.stopped; file = waiting.shift()) {
      const path = file.webkitRelativePath || file.name;
      mine.done.push({ path, sha256: await file.arrayBuffer().then(hashOf, () => '') });
      progress.max = mine.done.length + waiting.length;
      progress.value = mine.done.length;
    }
    run = null;
    if (mine.stopped) {
      waiting = [];
      status.textContent = say.stopped;
    } else {
      // A file given twice is one file.
      given = [...new Map([...given, ...mine.done].map((one) => [`${one.sha256} ${one.path}`, one])).values()];
      await tell();
    }
    busy(false);
  };
  const take = (files: readonly File[], folders: boolean): void => {
    const open = files.filter((file) => !isHidden(file.webkitRelativePath || file.name));
    notes = [...(open.length < files.length ? [say.hidden] : []), ...(folders ? [say.dropped] : [])];
    waiting.push(...open);
    if (open.length === 0 && given.length === 0) status.textContent = notes.length > 0 ? notes.join(' ') : say.none;
    else if (!run) void work();
  };
  button('files')?.addEventListener('click', chooser(here, false, take));
  button('folder')?.addEventListener('click', chooser(here, true, take));
  button('stop')?.addEventListener('click', () => {
    waiting = [];
    if (run) run.stopped = true;
  });
  button('again')?.addEventListener('click', () => {
    given = [];
    status.textContent = say.cleared;
    lines.replaceChildren();
    busy(false);
  });
  takeDropped(take);
}

/** Takes files dropped anywhere: beside the place meant for it one would open instead of the page. Words dropped into the field are left alone. */
function takeDropped(take: (files: readonly File[], folders: boolean) => void): void {
  const ofFiles = (event: DragEvent): boolean => event.dataTransfer?.types.includes('Files') ?? false;
  document.addEventListener('dragover', (event) => {
    if (ofFiles(event)) event.preventDefault();
  });
  document.addEventListener('drop', (event) => {
    if (!ofFiles(event)) return;
    event.preventDefault();
    const items = [...(event.dataTransfer?.items ?? [])].filter((item) => item.kind === 'file');
    // From disk a browser gives no access to what is in a dropped folder.
    const folders = items.filter((item) => item.webkitGetAsEntry()?.isDirectory);
    const files = items.filter((item) => !folders.includes(item)).flatMap((item) => item.getAsFile() ?? []);
    take(files, folders.length > 0);
  });
}

/** Opens the browser's own dialog for files, or for a folder with all in it. */
function chooser(here: HTMLElement, folder: boolean, take: (files: readonly File[], folders: boolean) => void): () => void {
  const input = document.createElement('input');
  input.type = 'file';
  input.multiple = true;
  input.webkitdirectory = folder;
  input.hidden = true;
  input.addEventListener('change', () => {
    take([...(input.files ?? [])], false);
    // The same choice again is a choice too.
    input.value = '';
  });
  here.append(input);
  return () => input.click();
}

function itemOf(kind: string, name: string, said: string): HTMLLIElement {
  const [item, code] = [document.createElement('li'), document.createElement('code')];
  item.className = kind === 'unchanged' || kind === 'list' ? 'same' : 'differs';
  code.textContent = name;
  item.append(code, `: ${said}`);
  return item;
}

/** A hash that was lodged, or the text of a list, against the hash on the cover. */
function takePasted(here: HTMLElement, say: CheckWords, listSha256: string): void {
  const field = here.querySelector('textarea');
  const status = here.querySelector('.lodged [role="status"]');
  if (!field || !status) return;
  field.addEventListener('input', async () => {
    const { value } = field;
    const pasted = readPasted(value);
    const hash = pasted.kind === 'list' ? await hashOfText(pasted.text) : pasted.text;
    if (field.value !== value) return;
    const { lodged } = say;
    if (value.trim() === '') status.textContent = '';
    else if (pasted.kind === 'neither') status.textContent = lodged.neither;
    else status.textContent = lodged[pasted.kind][hash === listSha256 ? 'same' : 'other'];
  });
}
