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
  markPlace();
  const photo = /^\/photo\/([0-9a-f]{16})$/.exec(location.pathname);
  const view = LATER.find(v => v.path.test(location.pathname));
  if (photo) leave = photoPage(main, photo[1], go);
  else if (location.pathname === '/') leave = benchPage(main, go);
  else if (view) leave = later(main, view);
  else {
    leave = () => {};
    main.replaceChildren(h('h1', { text: 'There is nothing at this address' }), h('p', {}, h('a', { href: '/', 'data-view': true, text: 'Go to the bench' })));
  }
}

/** Views that a first start does not need: their modules are fetched when they are gone to. */
const LATER = [
  { path: /^\/photo\/([0-9a-f]{16})\/try$/, open: async () => (await import('./try/try-page.js')).tryPage },
  { path: /^\/photo\/([0-9a-f]{16})\/proof$/, open: async () => (await import('./proof/proof-page.js')).proofPage },
  { path: /^\/start$/, open: async () => { const { startPage } = await import('./start/start-page.js'); return (main, _, to) => startPage(main, to); } },
  { path: /^\/series\/([0-9a-f]{16})$/, open: async () => (await import('./follow/series-page.js')).seriesPage },
  { path: /^\/classes$/, open: async () => (await import('./class/classes-page.js')).classesPage },
  { path: /^\/classes\/([0-9a-f]{16})$/, open: async () => (await import('./class/class-page.js')).classPage },
  { path: /^\/builds$/, open: async () => (await import('./keep/builds-page.js')).buildsPage },
  { path: /^\/builds\/([0-9a-f-]{36})$/, open: async () => (await import('./keep/build-page.js')).buildPage },
  { path: /^\/builds\/([0-9a-f-]{36})\/compare$/, open: async () => (await import('./keep/compare-page.js')).comparePage },
];

/** Shows a view once its module is there, if one has not gone elsewhere meanwhile. @param {HTMLElement} main @returns {() => void} */
function later(main, view) {
  const address = location.pathname;
  let left = false, end = () => {};
  main.replaceChildren(h('p', { class: 'quiet', text: 'Opening…' }));
  view.open().then(page => {
    if (left) return;
    main.replaceChildren();
    end = page(main, view.path.exec(address)?.[1] ?? '', go) ?? (() => {});
  }).catch(() => { main.replaceChildren(h('h1', { text: 'The server does not answer: is deflectscan serve still running?' })); });
  return () => { left = true; end(); };
}

/** Which of the navigation's places an address belongs to. */
function markPlace() {
  const first = location.pathname.split('/')[1], place = ['', 'photo', 'series'].includes(first) ? 'bench' : first;
  for (const link of document.querySelectorAll('.top nav a')) {
    if (link.getAttribute('data-place') === place) link.setAttribute('aria-current', 'page');
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
