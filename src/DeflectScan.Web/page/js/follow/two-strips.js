// Two measurements on one axis: the later one as the strip, the earlier one dashed in it.

import { Blank, ringsOf } from '../geometry/interval.js';
import { strip } from '../strip.js';
import { h } from '../dom.js';
import { settings } from '../settings.js';

/** What a strip draws of a measurement document. */
export function stripState(id, doc, more = {}) {
  const blank = new Blank(doc);
  return {
    id, doc, blank, rings: ringsOf(blank, doc), units: settings.units, pair: null, guide: null, live: new Set(), placed: [], pins: [], worst: null,
    figures: doc.intervals.map(i => ({ gap: i.gap_mm, gapAt: i.gap_at_mm, bow: i.bow_mm, bowAt: i.bow_at_mm, clearance: i.clearance_mm })), ...more,
  };
}

/** @param {(from: number) => void} chosen */
export function twoStrips(chosen) {
  const place = h('div', { class: 'strip', tabindex: 0, role: 'region', 'aria-label': 'Straightened strip' });
  const note = h('p', { class: 'quiet strip-note' });
  const drawn = strip(place, { pair: chosen, ring: () => {} });
  const element = h('section', { class: 'strip-section', 'aria-label': 'Both on one axis' }, place, note);
  return { element, draw };

  /** @param {any} state  of the later one @param {any} before  the earlier document, or null */
  function draw(state, before, saysBefore = 'dashed: the photo before') {
    const earlier = before ? new Blank(before) : null;
    const taller = drawn.draw({ ...state, before: earlier ? { blank: earlier, rings: ringsOf(earlier, before) } : null });
    note.textContent = [`Heights ${Number(taller.toFixed(1))} × · above: gap, below: bow, ${settings.units === 'mm' ? 'mm' : 'in'} · stations from the tip`,
      before && saysBefore, state.targetMm && 'band: the target'].filter(Boolean).join(' · ');
  }
}
