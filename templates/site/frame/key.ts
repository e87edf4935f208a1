const store = 'sillbook-find-key';

/**
 * On every page the key `/` goes to the field of the index or the link there, unless somebody is typing or has switched it
 * off: WCAG 2.2, criterion 2.1.4, asks for a switch.
 */
export function findByKey(): void {
  const label = document.querySelector<HTMLElement>('.find-key');
  const box = label?.querySelector('input');
  const target = document.querySelector<HTMLElement>('.find-form [name="q"]') ?? document.querySelector<HTMLElement>('.to-find');
  let on = remembered() !== 'off';
  if (on) target?.setAttribute('aria-keyshortcuts', '/');
  if (label && box) {
    label.hidden = false;
    box.checked = on;
    box.addEventListener('change', () => {
      on = box.checked;
      remember(on ? 'on' : 'off');
    });
  }
  addEventListener('keydown', (event) => {
    if (!on || !target || event.key !== '/' || event.defaultPrevented || event.ctrlKey || event.metaKey || event.altKey || event.isComposing) return;
    if (event.target instanceof HTMLElement && (event.target.isContentEditable || event.target.closest('input, textarea, select, dialog') !== null)) return;
    event.preventDefault();
    target.focus();
    if (target instanceof HTMLInputElement) target.select();
  });
}

/** A page opened from disk may have no store; then the choice lasts as long as the page. */
function remembered(): string | null {
  try {
    return localStorage.getItem(store);
  } catch {
    return null;
  }
}

function remember(value: string): void {
  try {
    localStorage.setItem(store, value);
  } catch {
    return;
  }
}
