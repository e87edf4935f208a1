/**
 * On a wide screen the parts of the dossier stand open. Styles do it where a browser knows `::details-content`; elsewhere
 * this opens them, and without script they open by their summary. The way back from deep in a long page opens them too.
 */
export function openMenuWhereWide(): void {
  const menu = document.querySelector<HTMLDetailsElement>('details.menu');
  document.querySelector('.to-menu a')?.addEventListener('click', () => {
    if (menu) menu.open = true;
  });
  if (!menu || CSS.supports('selector(::details-content)')) return;
  const wide = matchMedia('(min-width: 46.01rem)');
  const settle = (): void => {
    menu.open = wide.matches;
  };
  wide.addEventListener('change', settle);
  settle();
}
