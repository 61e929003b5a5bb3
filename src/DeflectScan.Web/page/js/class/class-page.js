// A class's board: it fills as photos arrive, stands on a projector, points at any two for a comparison on one axis.

import * as api from '../api.js';
import { boardStrip, scaleOf } from './board-strip.js';
import { comparison } from './compare-two.js';
import { h, toast } from '../dom.js';
import { controls } from './controls.js';
import { settings } from '../settings.js';

/** @param {HTMLElement} main @param {string} id @param {(address: string) => void} go @returns {() => void} */
export function classPage(main, id, go) {
  let left = false, asking = false, once = false;
  /** @type {any} */
  let board = null;
  /** @type {string[]} students that are compared, two at most */
  let two = [];
  const projector = h('button', { type: 'button', 'aria-pressed': 'false', text: 'Projector', onclick: () => project(!document.body.classList.contains('projecting')) });
  const heading = h('div', { class: 'class-head' }), words = h('ul', { class: 'stands-out', 'aria-label': 'What stands out' }), note = h('p', { class: 'quiet' });
  const rows = h('ol', { class: 'board', 'aria-label': 'Rods' }), mean = h('section', { class: 'mean', 'aria-label': 'Mean layout', hidden: true });
  const compared = comparison(() => { two = []; draw(); }), tools = controls(id, change, go);
  main.className = 'wide';
  main.replaceChildren(h('div', { class: 'class-page' }, heading, tools.element, rows, note, compared.element, h('section', { class: 'words-section' }, h('h2', { text: 'What stands out' }), words), mean));
  const source = new EventSource(`/api/classes/${id}/events`);
  source.addEventListener('changed', load);
  source.addEventListener('open', load);
  const escape = event => { if (event.key === 'Escape') project(false); };
  addEventListener('keydown', escape);
  project(new URLSearchParams(location.search).has('projector'));
  return () => { left = true; source.close(); removeEventListener('keydown', escape); document.body.classList.remove('projecting'); };

  /** What the figures are, once, where the wall has no room for it at each. */
  function wallHead() {
    return h('li', { class: 'wall-head', 'aria-hidden': true }, h('span', {}), h('span', {}), h('span', { text: `bow, ${settings.units}` }), h('span', { text: 'guides' }));
  }

  /** The board alone, in large type; Escape ends it. */
  function project(on) {
    document.body.classList.toggle('projecting', on);
    projector.setAttribute('aria-pressed', String(on));
    history.replaceState(null, '', `${location.pathname}${on ? '?projector' : ''}`);
    const had = document.activeElement === projector;
    if (board && !left) draw();
    if (had) projector.focus();
  }

  /** Asked anew with every change; changes that come while one asks are asked for once more. */
  async function load() {
    if (asking) { once = true; return; }
    asking = true;
    try {
      const found = await api.send(`/api/classes/${id}`, {});
      if (!left) { board = found; draw(); }
    } catch (error) {
      if (!left && !board) main.replaceChildren(h('h1', { text: error.message }), h('p', {}, h('a', { href: '/classes', 'data-view': true, text: 'To the classes' })));
      else if (!left) toast(error.message);
    }
    asking = false;
    if (once && !left) { once = false; load(); }
  }

  async function change(facts) {
    try {
      board = await api.send(`/api/classes/${id}`, { method: 'POST', headers: { 'Content-Type': 'application/json' }, body: JSON.stringify(facts) });
      draw();
    } catch (error) {
      toast(error.message);
    }
  }

  function draw() {
    document.title = `${board.facts.title} · DeflectScan`;
    const focused = /** @type {HTMLElement|null} */ (rows.querySelector(':focus'))?.dataset.compare;
    heading.replaceChildren(h('h1', { text: board.facts.title }), h('p', { class: 'class-code' }, board.address ? h('span', { text: board.address }) : null, h('strong', { text: board.code }), projector));
    tools.draw(board);
    const scale = scaleOf(board, document.body.classList.contains('projecting'));
    rows.replaceChildren(wallHead(), ...(board.reference ? [referenceRow(scale)] : []), ...board.rods.map(rod => row(rod, scale)));
    if (board.rods.length === 0) rows.replaceChildren(h('li', { class: 'quiet empty', text: 'Nobody is in yet: show the code on the wall.' }));
    note.textContent = board.rods.some(r => r.strip) ? scale.words : '';
    words.replaceChildren(...board.standsOut.map(text => h('li', { text })));
    drawMean();
    const chosen = two.map(student => board.rods.find(r => r.student === student)).filter(r => r?.key);
    compared.draw(chosen);
    if (focused) /** @type {HTMLElement|null} */ (rows.querySelector(`[data-compare="${focused}"]`))?.focus({ preventScroll: true });
  }

  function row(rod, scale) {
    const state = { measured: '', look_first: 'Look first', no_figures: rod.stage === 'waiting' || rod.stage === 'measuring' || rod.tries.length === 0 ? '' : 'Not measured' }[rod.standing];
    return h('li', { class: `rod ${rod.standing} ${rod.keeps === true ? 'keeps' : rod.keeps === false ? 'over' : ''}` },
      h('div', { class: 'rod-name' }, rod.photo ? h('a', { href: `/photo/${rod.photo}`, 'data-view': true, text: rod.name }) : h('span', { text: rod.name }),
        state && h('span', { class: 'state', text: state }), rod.tries.length > 1 && h('span', { class: 'quiet', text: `${rod.tries.length} photos` }),
        rod.key !== undefined && rod.stage === 'done' && h('a', { class: 'sheet-link', href: api.withUnits(`/api/classes/${id}/students/${rod.student}/sheet.pdf`), download: true, 'aria-label': `Feedback sheet of ${rod.name}`, text: 'Sheet' })),
      rod.strip
        ? h('div', { class: 'rod-strip' }, boardStrip(rod.strip, scale, { label: `The straightened blank of ${rod.name}`, targetMm: rod.targetMm, reference: board.reference }), rod.why && h('p', { class: 'quiet', text: rod.why }))
        : h('p', { class: 'rod-why', text: rod.why ?? '' }),
      rod.strip && h('dl', { class: 'rod-figures' }, ...figure('bow', rod.bow), ...figure('best', rod.best), ...figure('gap', rod.gap), ...figure('clear', rod.clear), ...figure('guides', rod.guides)),
      rod.key && rod.strip && h('button', { type: 'button', class: 'compare-button', 'data-compare': rod.student, 'aria-pressed': String(two.includes(rod.student)), 'aria-label': `Compare ${rod.name}`, text: 'Compare', onclick: () => pick(rod.student) }));
  }

  function referenceRow(scale) {
    return h('li', { class: 'rod reference' }, h('div', { class: 'rod-name' }, h('span', { text: 'Instructor' })),
      h('div', { class: 'rod-strip' }, boardStrip(board.reference, scale, { label: 'The straightened blank of the instructor' })));
  }

  function figure(name, value) {
    return [h('dt', { text: name }), h('dd', { class: `figure-${name}`, text: value })];
  }

  function pick(student) {
    two = two.includes(student) ? two.filter(s => s !== student) : [...two.slice(-1), student];
    draw();
  }

  function drawMean() {
    mean.hidden = !board.mean;
    if (!board.mean) return;
    mean.replaceChildren(h('h2', { text: `Mean layout of ${board.mean.rods} rods with ${board.mean.guides} guides` }), h('table', {},
      h('thead', {}, h('tr', {}, ...['guide', 'from the tip', 'spread'].map(text => h('th', { scope: 'col', text })))),
      h('tbody', {}, ...board.mean.stations.map((m, i) => h('tr', {}, h('th', { scope: 'row', text: i === board.mean.stations.length - 1 ? 'tip-top' : i + 1 }), h('td', { text: m.at }), h('td', { text: m.spread ?? '–' }))))));
  }
}
