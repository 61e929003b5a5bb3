// The page's ways: which address shows which view, and what all views share.

import { about } from './api.js';
import { benchPage } from './bench-page.js';
import { photoPage } from './photo-page.js';
import { applyTheme, isChosen, settingsButton, useUnits } from './settings.js';
import { h } from './dom.js';

/** @type {() => void} */
let leave = () => {};

/** Goes to an address of the page; quietly where the view already shows what it names. */
export function go(address, { replace = false, quiet = false } = {}) {
  if (replace) history.replaceState(null, '', address);
  else history.pushState(null, '', address);
  if (!quiet) show();
}

function show() {
  leave();
  const main = /** @type {HTMLElement} */ (document.getElementById('main'));
  main.className = '';
  const photo = /^\/photo\/([0-9a-f]{16})$/.exec(location.pathname);
  markPlace(location.pathname);
  if (photo) leave = photoPage(main, photo[1], go);
  else if (location.pathname === '/') leave = benchPage(main, go);
  else {
    leave = later(main, location.pathname) ?? (() => {});
    if (LATER.some(v => v.path.test(location.pathname))) return;
    main.replaceChildren(h('h1', { text: 'There is nothing at this address' }), h('p', {}, h('a', { href: '/', 'data-view': true, text: 'Go to the bench' })));
  }
}

/** Views that a first start does not need: their modules are fetched when they are gone to. */
const LATER = [
  { path: /^\/series\/([0-9a-f]{16})$/, open: async () => (await import('./follow/series-page.js')).seriesPage },
  { path: /^\/builds$/, open: async () => (await import('./keep/builds-page.js')).buildsPage },
  { path: /^\/builds\/([0-9a-f-]{36})$/, open: async () => (await import('./keep/build-page.js')).buildPage },
  { path: /^\/builds\/([0-9a-f-]{36})\/compare$/, open: async () => (await import('./keep/compare-page.js')).comparePage },
];

/** Shows a view once its module is there, if one has not gone elsewhere meanwhile; null where the address is of none. */
function later(main, path) {
  const view = LATER.find(v => v.path.test(path));
  if (!view) return null;
  let gone = false, end = () => {};
  main.replaceChildren(h('p', { class: 'quiet', text: 'Opening…' }));
  view.open().then(page => { if (!gone) end = page(main, view.path.exec(path)?.[1] ?? '', go); });
  return () => { gone = true; end(); };
}

/** Which place of the navigation one is at. */
function markPlace(path) {
  const place = path.startsWith('/builds') ? 'builds' : path === '/' || path.startsWith('/photo/') || path.startsWith('/series/') ? 'bench' : path.split('/')[1];
  for (const link of document.querySelectorAll('nav [data-place]')) {
    if (/** @type {HTMLElement} */ (link).dataset.place === place) link.setAttribute('aria-current', 'page');
    else link.removeAttribute('aria-current');
  }
}

document.addEventListener('click', event => {
  const link = /** @type {Element} */ (event.target).closest?.('a[data-view]');
  if (!link || event.ctrlKey || event.metaKey || event.shiftKey || event.button !== 0) return;
  event.preventDefault();
  go(/** @type {HTMLAnchorElement} */ (link).href);
});
addEventListener('popstate', show);

applyTheme();
document.getElementById('settings')?.replaceWith(settingsButton(() => { applyTheme(); show(); }));
if (!isChosen('units')) {
  try { useUnits((await about()).units); } catch { /* the view says that the server does not answer */ }
}
show();
