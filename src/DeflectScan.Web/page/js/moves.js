// The suggestion as a list of moves, in the order to make them at the bench: from the tip to the reel, the added guide last.

import { bare, length, station } from './format.js';
import { h } from './dom.js';

/** Guides of the suggested layout that are not where they stand now. */
export function ghostsOf(doc) {
  const suggestion = doc.suggestion;
  if (!suggestion || (suggestion.add_at_mm === null && suggestion.moves.length === 0)) return [];
  return suggestion.layout.filter(g => g.guide === null || suggestion.moves.some(m => m.guide === g.guide));
}

/** @param {HTMLElement} place */
export function moves(place) {
  return { draw };

  function draw({ doc, view, units }) {
    const suggestion = doc.suggestion;
    place.replaceChildren();
    if (!suggestion) return;
    const steps = [...suggestion.moves].sort((a, b) => a.from_mm - b.from_mm).map(m => h('li', {},
      h('strong', { text: `Guide ${m.guide}` }), ` from ${station(m.from_mm, units)} to `, h('strong', { text: station(m.to_mm, units) }),
      h('span', { class: 'quiet', text: ` ${length(Math.abs(m.to_mm - m.from_mm), units)} towards the ${m.to_mm < m.from_mm ? 'tip' : 'reel'}` })));
    if (suggestion.add_at_mm !== null) steps.push(h('li', {}, h('strong', { text: 'One more guide' }), ' at ', h('strong', { text: station(suggestion.add_at_mm, units) }), h('span', { class: 'quiet', text: ' from the tip' })));
    place.append(h('h2', { text: 'Moves' }), h('p', { class: 'quiet', text: view.why ?? '' }));
    if (steps.length === 0) return;
    place.append(h('ol', { class: 'moves' }, ...steps),
      h('p', { class: 'quiet', text: `Largest bow of the running pairs: ${bare(suggestion.bow_before_mm, units)}, then ${bare(suggestion.bow_after_mm, units)} ${units}.` }));
  }
}
