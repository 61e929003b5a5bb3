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
  const tried = /^\/photo\/([0-9a-f]{16})\/try$/.exec(location.pathname);
  const photo = /^\/photo\/([0-9a-f]{16})$/.exec(location.pathname);
  if (photo) leave = photoPage(main, photo[1], go);
  else if (tried) leave = later(main, () => import('./try/try-page.js').then(m => () => m.tryPage(main, tried[1], go)));
  else if (location.pathname === '/start') leave = later(main, () => import('./start/start-page.js').then(m => () => m.startPage(main, go)));
  else if (location.pathname === '/') leave = benchPage(main, go);
  else {
    leave = () => {};
    main.replaceChildren(h('h1', { text: 'There is nothing at this address' }), h('p', {}, h('a', { href: '/', 'data-view': true, text: 'Go to the bench' })));
  }
}

/** A view whose modules come when it is first gone to. @param {HTMLElement} main @param {() => Promise<() => () => void>} load @returns {() => void} */
function later(main, load) {
  let left = false, end = () => {};
  main.replaceChildren();
  load().then(open => { if (!left) end = open(); }).catch(() => { main.replaceChildren(h('h1', { text: 'The server does not answer: is deflectscan serve still running?' })); });
  return () => { left = true; end(); };
}

/** Which of the navigation's places an address belongs to. */
function markPlace() {
  const first = location.pathname.split('/')[1], place = first === '' || first === 'photo' ? 'bench' : first;
  for (const link of document.querySelectorAll('.top nav a')) {
    if (link.getAttribute('data-place') === place) link.setAttribute('aria-current', 'true');
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
