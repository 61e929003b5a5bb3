// Any two rods of a class on one axis.

import * as api from '../api.js';
import { stripState, twoStrips } from '../follow/two-strips.js';
import { h, toast } from '../dom.js';

/** @param {() => void} closed */
export function comparison(closed) {
  const title = h('h2'), strips = twoStrips(() => {});
  const element = h('section', { class: 'two-rods', 'aria-label': 'Two rods on one axis', hidden: true },
    h('div', { class: 'row' }, title, h('button', { type: 'button', text: 'Close', onclick: closed })), strips.element);
  const docs = new Map();
  let shown = '';
  return { element, draw };

  /** @param {any[]} rods  photo, key and name of one or two */
  async function draw(rods) {
    const wanted = rods.map(r => `${r.photo}/${r.key}`).join(' ');
    element.hidden = rods.length === 0;
    title.textContent = rods.length === 2 ? `${rods[1].name}, and dashed ${rods[0].name}` : rods.length === 1 ? `${rods[0].name}: choose another rod to compare` : '';
    if (wanted === shown || rods.length === 0) return;
    shown = wanted;
    try {
      const [first, second] = await Promise.all(rods.map(documentOf));
      if (wanted !== shown) return;
      const doc = second ?? first;
      strips.draw(stripState(wanted, doc, { worst: doc.running?.from ?? null }), second ? first : null, `dashed: ${rods[0].name}`);
      element.scrollIntoView({ block: 'nearest' });
    } catch (error) {
      toast(error.message);
    }
  }

  async function documentOf(rod) {
    const name = `${rod.photo}/${rod.key}`;
    if (!docs.has(name)) docs.set(name, await api.measurement(rod.photo, rod.key));
    return docs.get(name);
  }
}
