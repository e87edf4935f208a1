/** Room on a sheet within the margins of the styles, in millimetres: as narrow as A4, as low as Letter, and a little air. */
const sheet = { wideMm: 180, highMm: 242 } as const;
const pxPerMm = 96 / 25.4;

/** Buttons that print all of the page, or one sheet with what matters most; and the dossier's name at the head of every sheet. */
export function printInPlace(): void {
  const root = document.documentElement;
  // The margins of a sheet take words from styles only, and those are the same in every dossier.
  root.style.setProperty('--running', JSON.stringify(document.title));
  for (const button of document.querySelectorAll<HTMLButtonElement>('[data-print]')) {
    if (button.parentElement) button.parentElement.hidden = false;
    button.addEventListener('click', () => {
      if (button.dataset['print'] === 'brief') fitOnSheet(root);
      else root.classList.remove('brief');
      print();
    });
  }
  addEventListener('afterprint', () => root.classList.remove('brief'));
}

/** Makes the print one sheet. What is too long loses steps first, then size, then the drawing; never part of a sentence. */
function fitOnSheet(root: HTMLElement): void {
  const { body } = document;
  const steps = [...document.querySelectorAll<HTMLElement>('.sheet li')];
  const shown = document.querySelector('.sheet .shown');
  const hide = (step: HTMLElement): (() => void) => () => void (step.hidden = true);
  const size = (pt: number): (() => void) => () => root.style.setProperty('--brief', `${pt}pt`);
  const attempts = [
    ...[9.5, 9].map(size),
    ...steps.slice(3).reverse().map(hide),
    ...[8.5, 8].map(size),
    () => root.classList.add('undrawn'),
    ...steps.slice(0, 3).reverse().map(hide),
    ...[7, 6, 5, 4].map(size),
  ];
  for (const step of steps) step.hidden = false;
  root.classList.remove('undrawn');
  root.classList.add('brief');
  // For a moment the styles of paper hold on the screen: only what is laid out can be measured. Nothing of it is painted.
  const rules = [...document.styleSheets].flatMap(({ cssRules }) => [...cssRules]).filter((rule) => rule instanceof CSSMediaRule && rule.media.mediaText === 'print') as CSSMediaRule[];
  for (const { media } of rules) media.mediaText = 'all';
  body.style.width = `${sheet.wideMm}mm`;
  for (const attempt of attempts) {
    attempt();
    if (shown) shown.textContent = String(steps.filter((step) => !step.hidden).length);
    if (body.getBoundingClientRect().height <= sheet.highMm * pxPerMm) break;
  }
  body.style.width = '';
  for (const { media } of rules) media.mediaText = 'print';
}
