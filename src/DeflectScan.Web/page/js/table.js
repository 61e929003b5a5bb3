// The figures as tables: pairs and guides. A row lights with its pair on the strip and on the photo.

import { bare, guideName, pairName, station, withUncertainty } from './format.js';
import { h } from './dom.js';

/** @param {HTMLElement} place @param {{pair: (from: number) => void, ring: (index: number) => void}} on */
export function table(place, on) {
  /** @type {{state: any, pairs: any[], rings: any[]}} */
  let now = { state: null, pairs: [], rings: [] };
  return { draw, follow };

  function draw(state) {
    const { doc, units } = state;
    const inside = doc.side !== 'outside';
    now = { state, pairs: doc.intervals.map(pairRow), rings: doc.guides.map(ringRow) };
    now.pairs.forEach((_, i) => fillPair(i));
    now.rings.forEach((_, i) => fillRing(i));
    place.replaceChildren(
      h('table', { class: 'figures' },
        h('caption', {}, 'Pairs ', h('span', { class: 'quiet', text: `in ${units === 'mm' ? 'mm' : 'inches'}; gap: line to blank’s surface; bow: blank off its own chord` })),
        head('Pair', 'Gap', 'Bow', 'Clear'), h('tbody', {}, ...now.pairs.map(r => r.row))),
      h('table', { class: 'figures' },
        h('caption', {}, 'Guides ', h('span', { class: 'quiet', text: 'station: along the blank from the tip' })),
        head('Guide', 'Station', 'Height', state.seen ? 'Change' : 'Seen'), h('tbody', {}, ...now.rings.map(r => r.row))));

    function pairRow(pair) {
      const row = { gap: h('td', { 'data-figure': 'gap' }), bow: h('td', { 'data-figure': 'bow' }), clearance: h('td', { 'data-figure': 'clearance' }) };
      return { ...row, row: h('tr', { onclick: () => on.pair(pair.from) },
        h('th', { scope: 'row' }, h('button', { type: 'button', class: 'row-button', 'aria-pressed': String(state.pair === pair.from), text: pairName(doc, pair) }),
          state.worst === pair.from && h('span', { class: 'tag', text: inside ? 'follows worst' : 'least clearance' })),
        row.gap, row.bow, row.clearance) };
    }

    function ringRow(g) {
      const row = { station: h('td', { 'data-figure': 'station' }), height: h('td', { 'data-figure': 'height' }) };
      return { ...row, row: h('tr', { class: state.guide === g.index ? 'chosen' : '', onclick: () => on.ring(g.index) },
        h('th', { scope: 'row' }, h('button', { type: 'button', class: 'row-button', 'aria-pressed': String(state.guide === g.index), text: guideName(g) })),
        row.station, row.height, h('td', { text: state.seen?.(g) ?? (state.placed.includes(g.index) ? 'placed by you' : { traced: 'seen', inferred: 'inferred', marked: 'placed by you' }[g.source]) })) };
    }
  }

  /** Follows a ring that is being moved: its own row and its pairs'. @param {number} i  of the ring, from 0 @param {number[]} pairs  from 0 */
  function follow(i, pairs) {
    for (const k of pairs) fillPair(k);
    fillRing(i);
  }

  function fillPair(i) {
    const { doc, units, figures, live, pair: chosen, worst } = now.state, pair = doc.intervals[i], f = figures[i], row = now.pairs[i], moving = live.has(i);
    row.row.className = [chosen === pair.from && 'chosen', worst === pair.from && 'worst', moving && 'live'].filter(Boolean).join(' ');
    row.gap.textContent = moving ? bare(f.gap, units) : withUncertainty(f.gap, pair.gap_uncertainty_mm, units);
    row.bow.textContent = moving ? bare(f.bow, units) : withUncertainty(f.bow, pair.bow_uncertainty_mm, units);
    row.clearance.replaceChildren(...[bare(f.clearance, units), pair.touches_blank && !moving && h('span', { class: 'tag', text: 'touches' })].filter(Boolean));
  }

  function fillRing(i) {
    const { doc, units, rings, live } = now.state, g = doc.guides[i], row = now.rings[i], moving = live.has(i) || live.has(i - 1);
    row.station.textContent = units === 'mm' && !moving && g.station_uncertainty_mm !== undefined ? withUncertainty(rings[i].s, g.station_uncertainty_mm, units) : station(rings[i].s, units);
    row.height.textContent = bare(Math.abs(rings[i].height), units);
  }
}

function head(...names) {
  return h('thead', {}, h('tr', {}, ...names.map(t => h('th', { scope: 'col', text: t }))));
}
