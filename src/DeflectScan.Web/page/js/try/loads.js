// The layout at other loads: asked for, since it takes a moment and speaks of loading the rod; the cautions come first.

import * as desk from './desk-api.js';
import { bare, withUncertainty } from '../format.js';
import { h, s } from '../dom.js';
import { settings } from '../settings.js';

/** @param {HTMLElement} place @param {{take: (layout: string) => void}} on */
export function loads(place, on) {
  place.setAttribute('aria-label', 'Other loads');
  /** @type {Map<string, any>} */
  const answers = new Map();
  let wanted = false, drawn = '', asked = null, latest = () => {};
  return { draw };

  function draw(id, key, layout, base) {
    latest = () => draw(id, key, layout, base);
    const as = `${layout}/${settings.units}/${wanted}/${answers.has(layout)}`;
    if (as === drawn) return;
    drawn = as;
    const answer = answers.get(layout), ask = () => { wanted = true; fetchOnce(id, key, layout, base); };
    const caution = h('p', { class: 'caution', role: 'note' }, h('strong', { text: 'Take care. ' }), 'A bend that was computed has not been tried: do not take the blank there to see. Keep the tip at 90 degrees or less to the butt, load no further than the maker’s rating.');
    if (wanted && !answer) fetchOnce(id, key, layout, base);
    place.replaceChildren(...[
      h('h2', { text: 'Other loads' }), caution,
      !wanted && h('button', { type: 'button', text: 'Show this layout at other loads', onclick: ask }),
      wanted && !answer && h('p', { class: 'quiet', role: 'status', text: 'Bending the blank…' }),
      answer?.problem && h('p', { text: answer.problem }),
      ...(answer?.report ? figures(answer, base) : []),
    ].filter(Boolean));
  }

  async function fetchOnce(id, key, layout, base) {
    if (answers.has(layout) || asked === layout) return;
    asked = layout;
    try { answers.set(layout, await desk.bend(id, key, layout)); } catch (error) { answers.set(layout, { problem: error.message }); }
    asked = null;
    drawn = '';
    latest();
  }

  function figures({ report, layout, notes, cautions }, base) {
    const { units } = settings;
    return [
      family(report, base),
      h('div', { class: 'scrolls', tabindex: 0, role: 'region', 'aria-label': 'Figures at other loads' }, h('table', { class: 'figures' },
        h('caption', { class: 'quiet', text: `in ${units}; load over the photographed one; bow: largest of the running pairs` }),
        h('thead', {}, h('tr', {}, ...['Load', 'Tip turns', 'Bow', 'Least possible', 'Gap'].map(t => h('th', { scope: 'col', text: t })))),
        h('tbody', {}, ...report.bends.map(b => h('tr', {},
          h('th', { scope: 'row', text: `${Number(b.load_factor.toFixed(2))}×${b.load_n === null ? '' : ` ${b.load_n.toFixed(1)} N`}` }), h('td', { text: `${b.tip_turn_deg.toFixed(0)}°` }),
          h('td', { text: bare(b.present.largest_bow_mm, units) }), h('td', { text: b.best ? bare(b.best.largest_bow_mm, units) : '–' }), h('td', { text: largestGap(b, units) })))))),
      layout !== null && h('button', { type: 'button', text: 'Take the layout best over these loads', onclick: () => on.take(layout) }),
      h('ul', { class: 'findings' }, ...[...notes, ...cautions].map(n => h('li', { text: n }))),
    ].filter(Boolean);
  }

  function largestGap(bent, units) {
    const largest = bent.pairs.reduce((a, b) => b.gap_mm > a.gap_mm ? b : a);
    return withUncertainty(largest.gap_mm, largest.gap_uncertainty_mm, units);
  }

  /** The family of bends, each from the clamp end. */
  function family(report, base) {
    const all = report.bends.flatMap(b => b.axis.map(p => p.point_mm)), xs = all.map(p => p[0]), ys = all.map(p => -p[1]);
    const [left, right, top, bottom] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)], pad = 0.06 * (right - left);
    return s('svg', { viewBox: `${left - pad} ${top - pad} ${right - left + 2 * pad} ${bottom - top + 2 * pad}`, class: 'family', role: 'img', 'aria-label': `The blank of ${base.name} at ${report.bends.length} loads` },
      ...report.bends.map(b => s('polyline', { points: b.axis.map(p => `${p.point_mm[0].toFixed(1)},${(-p.point_mm[1]).toFixed(1)}`).join(' '), class: Math.abs(b.load_factor - 1) < 1e-6 ? 'measured' : '' })));
  }
}
