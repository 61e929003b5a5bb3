// The figures as tables: pairs and guides. A row lights with its pair on the strip and on the photo.

import { bare, guideName, pairName, station, withUncertainty } from './format.js';
import { h } from './dom.js';

/** @param {HTMLElement} place @param {{pair: (from: number) => void, ring: (index: number) => void}} on */
export function table(place, on) {
  return { draw };

  function draw(state) {
    const { doc, units, figures, rings } = state;
    const inside = doc.side !== 'outside';
    place.replaceChildren(
      h('table', { class: 'figures' },
        h('caption', {}, 'Pairs ', h('span', { class: 'quiet', text: `in ${units === 'mm' ? 'mm' : 'inches'}; gap: line to blank’s surface; bow: blank off its own chord` })),
        h('thead', {}, h('tr', {}, ...['Pair', 'Gap', 'Bow', 'Clear'].map(t => h('th', { scope: 'col', text: t })))),
        h('tbody', {}, ...doc.intervals.map((pair, i) => {
          const live = state.live.has(i), f = figures[i];
          return h('tr', {
            class: `${state.pair === pair.from ? 'chosen' : ''} ${state.worst === pair.from ? 'worst' : ''} ${live ? 'live' : ''}`,
            onclick: () => on.pair(pair.from),
          },
          h('th', { scope: 'row' }, h('button', { type: 'button', class: 'row-button', 'aria-pressed': String(state.pair === pair.from), text: pairName(doc, pair) }),
            state.worst === pair.from && h('span', { class: 'tag', text: inside ? 'follows worst' : 'least clearance' })),
          h('td', { 'data-figure': 'gap', text: live ? bare(f.gap, units) : withUncertainty(f.gap, pair.gap_uncertainty_mm, units) }),
          h('td', { 'data-figure': 'bow', text: live ? bare(f.bow, units) : withUncertainty(f.bow, pair.bow_uncertainty_mm, units) }),
          h('td', { 'data-figure': 'clearance' }, bare(f.clearance, units), pair.touches_blank && !live && h('span', { class: 'tag', text: 'touches' })));
        }))),
      h('table', { class: 'figures' },
        h('caption', {}, 'Guides ', h('span', { class: 'quiet', text: 'station: along the blank from the tip' })),
        h('thead', {}, h('tr', {}, ...['Guide', 'Station', 'Height', 'Seen'].map(t => h('th', { scope: 'col', text: t })))),
        h('tbody', {}, ...doc.guides.map((g, i) => {
          const ring = rings[i], live = state.live.has(i) || state.live.has(i - 1);
          return h('tr', { class: state.guide === g.index ? 'chosen' : '', onclick: () => on.ring(g.index) },
            h('th', { scope: 'row' }, h('button', { type: 'button', class: 'row-button', 'aria-pressed': String(state.guide === g.index), text: guideName(g) })),
            h('td', { text: units === 'mm' && !live ? withUncertainty(ring.s, g.station_uncertainty_mm, units) : station(ring.s, units) }),
            h('td', { text: bare(Math.abs(ring.height), units) }),
            h('td', { text: state.placed.includes(g.index) ? 'placed by you' : { traced: 'seen', inferred: 'inferred', marked: 'placed by you' }[g.source] }));
        }))));
  }
}
