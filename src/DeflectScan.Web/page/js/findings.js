// What was noticed: one finding a cause, its places as numbered pins that one click goes to.

import { h } from './dom.js';

const WORD = { note: 'Note', review: 'Look', refusal: 'Refused' };

/** @param {HTMLElement} place @param {(pin: any) => void} goTo */
export function findings(place, goTo) {
  return { draw };

  function draw(view, chosenPin) {
    place.replaceChildren();
    const rest = view.findings.filter(f => f.message !== view.headline?.answer);
    if (rest.length === 0) return;
    place.append(h('h2', { text: 'What was noticed' }), h('ul', { class: 'findings' }, ...rest.map(f =>
      h('li', { class: f.severity },
        h('p', {}, h('strong', { text: `${WORD[f.severity]}. ` }), f.message),
        f.places.length > 0 && h('div', { class: 'places' }, ...f.places.map(p => h('button', {
          type: 'button', class: 'pin-button', 'aria-pressed': String(chosenPin === p.number), 'aria-label': `Go to place ${p.number}`,
          text: p.number, onclick: () => goTo({ ...p, code: f.code }),
        })))))));
  }
}

/** Every pin of a photo's findings. */
export function pinsOf(view) {
  return view.findings.flatMap(f => f.places.map(p => ({ ...p, code: f.code })));
}
