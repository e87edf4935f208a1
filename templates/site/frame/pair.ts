/**
 * Lays the photo before over the photo after, as much of it as the range says; without this script, and on paper, both
 * stand side by side. Where one of them cannot be shown they stay so.
 */
export function comparePairsInPlace(): void {
  for (const pair of document.querySelectorAll<HTMLElement>('.pair')) {
    const controls = pair.querySelector<HTMLElement>('.controls');
    const range = controls?.querySelector<HTMLInputElement>('input[type="range"]');
    const sides = pair.querySelector<HTMLElement>('.sides');
    if (!controls || !range || !sides) continue;
    const buttons = [...controls.querySelectorAll('button')];
    const show = (value: string): void => {
      range.value = value;
      // Set through the object model, which the content policy lets be.
      sides.style.setProperty('--at', `${value}%`);
      const whole = value === '0' || value === '100';
      pair.classList.toggle('whole', whole);
      for (const button of buttons) button.setAttribute('aria-pressed', String(whole ? button.value === value : button.value === '50'));
    };
    range.addEventListener('input', () => show(range.value));
    for (const button of buttons) button.addEventListener('click', () => show(button.value));
    // A page come back to keeps the range where it was left.
    show(range.value);
    controls.hidden = false;
    pair.classList.add('compared');
  }
}
