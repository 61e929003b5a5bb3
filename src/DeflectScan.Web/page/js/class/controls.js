// What an instructor sets for a class: how the board is sorted, the target, names, who may see it, what is taken along, and taking the class away.

import * as api from '../api.js';
import { bare } from '../format.js';
import { h, toast } from '../dom.js';
import { settings } from '../settings.js';

const ORDERS = [['bow', 'largest bow'], ['gap', 'largest gap'], ['clearance', 'least clearance'], ['guides', 'guides'], ['best', 'against the best possible'], ['name', 'name']];

/** @param {string} id @param {(facts: any) => void} change @param {(address: string) => void} go */
export function controls(id, change, go) {
  const order = h('select', { id: 'order', onchange: () => change({ order: order.value }) }, ...ORDERS.map(([value, text]) => h('option', { value, text })));
  const target = h('input', { id: 'class-target', type: 'number', inputmode: 'decimal', step: 'any', min: 0, onchange: set });
  const best = toggle('Best possible', () => change({ target: best.pressed() ? null : 'best' }));
  const hide = toggle('Hide names', () => change({ hideNames: !hide.pressed() })), same = toggle('Same blank', () => change({ sameBlank: !same.pressed() }));
  const shown = toggle('Show on phones', () => change({ boardShown: !shown.pressed() })), open = toggle('Open', () => change({ open: !open.pressed() }));
  const reference = h('select', { id: 'reference', onchange: () => change({ reference: reference.value || null }) }, h('option', { value: '', text: 'none' }));
  const wall = h('div', { class: 'phone-panel', hidden: true }), going = h('div', { class: 'going', hidden: true });
  const show = h('button', { type: 'button', class: 'primary', text: 'Show the code', 'aria-expanded': 'false', onclick: () => { wall.hidden = !wall.hidden; show.setAttribute('aria-expanded', String(!wall.hidden)); } });
  const files = h('div', { class: 'downloads' });
  const element = h('section', { class: 'class-tools', 'aria-label': 'Class settings' },
    h('div', { class: 'row' }, show, h('label', { for: 'order' }, 'Sorted by', order), h('label', { for: 'class-target' }, h('span', { class: 'target-unit' }), target), best.element, hide.element, same.element, shown.element, open.element),
    h('details', { class: 'opens' }, h('summary', { text: 'More' }), h('div', { class: 'row' }, h('label', { for: 'reference' }, 'My own rod', reference), files,
      h('button', { type: 'button', text: 'Delete this class', onclick: sayWhatGoes })), going),
    wall);
  /** @type {string|null} */
  let code = null, benchKnown = false;
  return { element, draw };

  function draw(board) {
    const { facts } = board;
    order.value = facts.order;
    element.querySelector('.target-unit').textContent = `Target bow, ${settings.units}`;
    if (document.activeElement !== target) target.value = typeof facts.target === 'number' ? bare(facts.target, settings.units) : '';
    best.set(facts.target === 'best'); hide.set(facts.hideNames); same.set(facts.sameBlank); shown.set(facts.boardShown); open.set(facts.open);
    if (board.code !== code) {
      code = board.code;
      wall.replaceChildren(...(board.address
        ? [h('p', { text: 'Scan this with a phone of the same network.' }), h('img', { src: `/api/classes/${id}/code.png`, alt: `QR code of ${board.address}` }), h('p', {}, `${board.address} `, h('strong', { text: board.code }))]
        : [h('p', { text: board.says })]));
      files.replaceChildren(...['board.html', 'board.pdf', 'board.png', 'class.csv', 'class.json', 'sheets.zip'].map(name => h('a', { class: 'button', href: api.withUnits(`/api/classes/${id}/${name}`), download: name, text: name })));
    }
    fillReference(facts.reference);
  }

  /** The bench's photos are what an instructor's own rod is chosen from. */
  async function fillReference(chosen) {
    if (!benchKnown) {
      benchKnown = true;
      try {
        for (const photo of (await api.photos()).filter(p => p.status && p.status !== 'refused')) reference.append(h('option', { value: photo.id, text: `${photo.name}: ${photo.headline?.answer ?? ''}`.slice(0, 70) }));
      } catch { /* the bench says so by itself */ }
    }
    reference.value = chosen ?? '';
  }

  function set() {
    const typed = Number(target.value);
    change({ target: target.value === '' ? null : settings.units === 'in' ? typed * 25.4 : typed });
  }

  async function sayWhatGoes() {
    try {
      const { says } = await api.send(`/api/classes/${id}/going`, {});
      going.hidden = false;
      going.replaceChildren(h('p', { role: 'status', text: `This goes for good: ${says}` }), h('div', { class: 'row' },
        h('button', { type: 'button', class: 'danger', text: 'Delete wholly', onclick: remove }), h('button', { type: 'button', text: 'Keep it', onclick: () => { going.hidden = true; } })));
    } catch (error) {
      toast(error.message);
    }
  }

  async function remove() {
    try {
      const { says } = await api.send(`/api/classes/${id}/delete`, { method: 'POST' });
      go('/classes');
      toast(says);
    } catch (error) {
      toast(error.message);
    }
  }
}

/** A button that is pressed or not. */
function toggle(text, flip) {
  const element = h('button', { type: 'button', 'aria-pressed': 'false', text, onclick: flip });
  return { element, pressed: () => element.getAttribute('aria-pressed') === 'true', set: on => element.setAttribute('aria-pressed', String(Boolean(on))) };
}
