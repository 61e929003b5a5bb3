// Two layouts side by side with the measured one: who they are, and their figures in one small table.

import { withUncertainty } from '../format.js';
import { h } from '../dom.js';
import { settings } from '../settings.js';
import { pairText } from './words.js';
import { writeLayout } from './trial.js';

/** @param {HTMLElement} place @param {{show: (slot: 'a'|'b') => void, copy: () => void, change: (text: string) => void}} on */
export function compare(place, on) {
  place.setAttribute('aria-label', 'Layouts');
  return { draw };

  /** @param {{slots: any, shown: string, now: any, answers: Map<string, any>, base: any, suggestion: any}} what */
  function draw({ slots, shown, now, answers, base, suggestion }) {
    const chosen = document.activeElement?.closest?.('.try-layouts [data-does]')?.getAttribute('data-does');
    const button = (text, does, run, more = {}) => h('button', { type: 'button', text, 'data-does': does, onclick: run, ...more });
    const columns = [['As measured', now?.report.before], [slots.b === null ? 'Tried' : 'A', answers.get(slots.a)?.report.after], ...(slots.b === null ? [] : [['B', answers.get(slots.b)?.report.after]])];
    place.replaceChildren(h('h2', { text: 'Layouts' }),
      h('div', { class: 'choices' }, ...(slots.b === null ? [] : ['a', 'b'].map(s => button(`Layout ${s.toUpperCase()}`, s, () => on.show(/** @type {'a'|'b'} */ (s)), { 'aria-pressed': String(shown === s) }))),
        button(slots.b === null ? 'A second layout beside it' : 'Copy A to B', 'copy', on.copy),
        suggestion && button('Take the suggestion', 'suggestion', () => on.change(writeLayout(suggestion))),
        slots[shown] && button('As measured', 'reset', () => on.change(''))),
      h('div', { class: 'scrolls', tabindex: 0, role: 'region', 'aria-label': 'Layouts compared' }, h('table', { class: 'figures compared' },
        h('caption', { class: 'quiet', text: `in ${settings.units}; predicted on the same bend` }),
        h('thead', {}, h('tr', {}, h('td'), ...columns.map(([name]) => h('th', { scope: 'col', text: name })))),
        h('tbody', {}, ...rows(base).map(([name, of]) => h('tr', {}, h('th', { scope: 'row', text: name }), ...columns.map(([, judged]) => h('td', {}, ...(judged ? of(judged) : ['…'])))))))));
    if (chosen) /** @type {HTMLElement|null} */ (place.querySelector(`[data-does="${chosen}"]`))?.focus();
  }

  function rows(base) {
    const { units } = settings, figure = (judged, pair, mm, open) => pair ? [withUncertainty(mm, open, units), h('span', { class: 'quiet of', text: pairText(judged, pair) })] : ['–'];
    return [
      ['Guides', judged => [String(judged.guides.length - 1)]],
      [base.doc.side === 'outside' ? 'Least clearance, running' : 'Follows worst, bow', judged => {
        const w = judged.follows_worst;
        return base.doc.side === 'outside' ? figure(judged, w, w?.clearance_mm, w?.clearance_uncertainty_mm) : figure(judged, w, w?.bow_mm, w?.bow_uncertainty_mm);
      }],
      ['Largest gap', judged => figure(judged, judged.largest_gap, judged.largest_gap.gap_mm, judged.largest_gap.gap_uncertainty_mm)],
      base.doc.side === 'outside' && ['Largest bow', judged => figure(judged, judged.largest_bow, judged.largest_bow.bow_mm, judged.largest_bow.bow_uncertainty_mm)],
      ['Least clearance', judged => figure(judged, judged.least_clearance, judged.least_clearance.clearance_mm, judged.least_clearance.clearance_uncertainty_mm)],
    ].filter(Boolean);
  }
}
