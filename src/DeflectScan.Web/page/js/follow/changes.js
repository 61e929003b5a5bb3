// What changed between two measurements, as tables; the figures are the server's.

import { bare, within, station } from '../format.js';
import { settings } from '../settings.js';
import { h } from '../dom.js';

/** "−0.8 ±0.1"; in plain type where it is within its uncertainty. */
export function change(mm, uncertaintyMm) {
  if (mm === null || mm === undefined) return '–';
  const units = settings.units, sign = mm > 0 ? '+' : mm < 0 ? '−' : '';
  return `${sign}${bare(Math.abs(mm), units)} ±${within(uncertaintyMm, units)}`;
}

const sure = (mm, uncertaintyMm) => mm !== null && mm !== undefined && Math.abs(mm) > uncertaintyMm;

/** @param {any} step  a comparison @param {any} before  its earlier document @param {any} after  its later one */
export function changeTables(step, before, after) {
  const name = (doc, n) => n === null ? '–' : doc.guides[n - 1].kind === 'tip' ? 'Tip' : String(n);
  const pair = (doc, p) => p === null ? '–' : `${p.from} to ${doc.guides[p.to - 1].kind === 'tip' ? 'tip' : p.to}`;
  const units = settings.units, unit = units === 'mm' ? 'mm' : 'inches';
  const one = p => p.before && p.after ? pair(before, p.before) === pair(after, p.after) ? pair(after, p.after) : `${pair(before, p.before)} → ${pair(after, p.after)}`
    : p.after ? `${pair(after, p.after)} (new)` : `${pair(before, p.before)} (gone)`;
  const figure = (mm, uncertaintyMm) => h('td', { class: sure(mm, uncertaintyMm) ? 'sure' : 'same', text: change(mm, uncertaintyMm) });
  const cell = mm => h('td', { text: mm === undefined || mm === null ? '–' : bare(mm, units) });
  return [
    scroller('Pairs, before and after', h('table', { class: 'figures changes' },
      h('caption', {}, 'Pairs ', h('span', { class: 'quiet', text: `in ${unit}; strong: more than the photos leave open` })),
      h('thead', {}, h('tr', {}, ...['Pair', 'Gap', 'now', 'change', 'Bow', 'now', 'change'].map(t => h('th', { scope: 'col', text: t })))),
      h('tbody', {}, ...step.pairs.map(p => h('tr', {}, h('th', { scope: 'row', text: one(p) }),
        cell(p.before?.gap_mm), cell(p.after?.gap_mm), figure(p.gap_change_mm, p.gap_change_uncertainty_mm),
        cell(p.before?.bow_mm), cell(p.after?.bow_mm), figure(p.bow_change_mm, p.bow_change_uncertainty_mm)))))),
    scroller('Guides, before and after', h('table', { class: 'figures changes' },
      h('caption', {}, 'Guides ', h('span', { class: 'quiet', text: 'stations from the tip; + toward the reel' })),
      h('thead', {}, h('tr', {}, ...['Guide', 'Station', 'now', 'moved'].map(t => h('th', { scope: 'col', text: t })))),
      h('tbody', {}, ...step.guides.map(g => h('tr', {}, h('th', { scope: 'row', text: g.before === g.after || g.before === null ? `${name(after, g.after)}${g.before === null ? ' (new)' : ''}` : g.after === null ? `${name(before, g.before)} (gone)` : `${name(before, g.before)} → ${name(after, g.after)}` }),
        h('td', { text: g.before_mm === null ? '–' : station(g.before_mm, units) }), h('td', { text: g.after_mm === null ? '–' : station(g.after_mm, units) }),
        figure(g.moved_mm, g.uncertainty_mm)))))),
  ];
}

/** A table that is wider than a phone scrolls by itself, also by keys. */
export const scroller = (label, table) => h('div', { class: 'scroller', tabindex: 0, role: 'region', 'aria-label': label }, table);
