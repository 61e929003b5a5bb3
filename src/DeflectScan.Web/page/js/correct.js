// Corrections: what can be done with what is chosen, and sending it. The server measures the photo again; undo and redo are its own.

import * as api from './api.js';
import { h, toast } from './dom.js';

/** @param {string} id @param {(view: any) => void} changed */
export function corrections(id, changed) {
  const bar = h('div', { class: 'actions', role: 'toolbar', 'aria-label': 'Corrections' });
  let adding = false;
  return { bar, draw, send, step, isAdding: () => adding, stopAdding: () => { adding = false; } };

  /** @param {any} state @param {any} pin  the place that is looked at, or null */
  function draw(state, pin) {
    const { view } = state;
    const busy = view.stage !== 'done';
    const button = (text, run, more = {}) => h('button', { type: 'button', text, onclick: run, disabled: busy, ...more });
    const parts = [];
    if (pin) parts.push(...atPin(state, pin, button));
    else if (state.guide) parts.push(...atRing(state, button));
    else parts.push(button(adding ? 'Tap where the line touches it' : 'Add a guide', () => { adding = !adding; draw(state, pin); }, { 'aria-pressed': String(adding) }));
    bar.replaceChildren(
      h('span', { class: 'actions-main' }, ...parts),
      h('span', { class: 'actions-undo' },
        h('button', { type: 'button', text: 'Undo', title: view.undo ?? '', disabled: !view.undo, onclick: () => step('undo') }),
        h('button', { type: 'button', text: 'Redo', title: view.redo ?? '', disabled: !view.redo, onclick: () => step('redo') })));
  }

  function atPin(state, pin, button) {
    const answered = { stationMm: pin.stationMm };
    const doubt = pin.code === 'guides-uncertain';
    if (pin.guide && doubt) {
      return [h('span', { class: 'asks', text: `${pin.number}: does guide ${pin.guide} stand here?` }),
        button('Yes', () => send({ do: 'keep', guide: pin.guide, ...answered })),
        state.doc.guides[pin.guide - 1].kind !== 'tip' && button('No guide here', () => send({ do: 'remove', guide: pin.guide, ...answered }))];
    }
    if (doubt) {
      return [h('span', { class: 'asks', text: `${pin.number}: does a guide stand here?` }),
        button('Yes, one', () => send({ do: 'add', ...linePoint(state, pin), ...answered })),
        button('No guide here', () => send({ do: 'clear', ...answered }))];
    }
    return [h('span', { class: 'asks', text: pin.guide ? `${pin.number}: drag the ring if it is off` : `${pin.number}: look here` }),
      pin.guide && button('It is right', () => send({ do: 'keep', guide: pin.guide, ...answered }))];
  }

  function atRing(state, button) {
    const tip = state.doc.guides[state.guide - 1].kind === 'tip';
    return [h('span', { class: 'asks', text: tip ? 'Tip-top: drag its ring, or use the arrow keys' : `Guide ${state.guide}: drag its ring, or use the arrow keys` }),
      !tip && button('No guide here', () => send({ do: 'remove', guide: state.guide, stationMm: state.doc.guides[state.guide - 1].station_mm }))];
  }

  /** Where the line passes a station of the blank: a guide there would touch it. */
  function linePoint(state, pin) {
    const guides = state.doc.guides, next = guides.findIndex(g => g.station_mm < pin.stationMm);
    const i = next <= 0 ? 0 : next - 1, a = guides[i], b = guides[i + 1];
    const t = Math.min(Math.max((a.station_mm - pin.stationMm) / (a.station_mm - b.station_mm), -0.5), 1);
    return { x: a.ring_px[0] + t * (b.ring_px[0] - a.ring_px[0]), y: a.ring_px[1] + t * (b.ring_px[1] - a.ring_px[1]) };
  }

  async function send(correction) {
    adding = false;
    try {
      const view = await api.correct(id, correction);
      changed(view);
      if (view.undo) toast(`${view.undo}.`, { text: 'Undo', run: () => step('undo') });
      return true;
    } catch (error) {
      toast(error.message);
      return false;
    }
  }

  async function step(what) {
    try { changed(await api.tell(id, what)); } catch (error) { toast(error.message); }
  }
}
