// The best spacing for a number of guides, and the curve of the largest bow against it: each point takes its layout.

import * as desk from './desk-api.js';
import { bare } from '../format.js';
import { h, s, toast } from '../dom.js';
import { settings } from '../settings.js';

const WIDTH = 420, HEIGHT = 200, LEFT = 44, RIGHT = 20, TOP = 30, BOTTOM = 40;

/** @param {HTMLElement} place @param {{take: (layout: string) => void}} on */
export function spacing(place, on) {
  place.setAttribute('aria-label', 'Best spacing');
  let id = '', key = '', guides = 0, busy = false, open = null, drawn = '';
  /** @type {'bow'|'gap'} */
  let goal = 'bow';
  /** @type {Record<string, any>} */
  const curves = {};
  return { open: start, draw };

  function start(photo, measurement) { [id, key] = [photo, measurement]; curve(); }

  async function curve() {
    try {
      const answer = await desk.spacing(id, key, goal, null);
      curves[goal] = answer.report;
      drawn = '';
      draw(guides);
    } catch (error) { open = error.message; drawn = ''; draw(guides); }
  }

  async function take(n) {
    if (busy) return;
    busy = true;
    try {
      on.take((await desk.spacing(id, key, goal, n)).layout);
    } catch (error) { toast(error.message); } finally { busy = false; }
  }

  function draw(now) {
    guides = now;
    const as = `${now}/${goal}/${settings.units}/${Boolean(curves[goal])}`;
    if (as === drawn) return;
    drawn = as;
    const report = curves[goal], focused = document.activeElement?.closest?.('.try-spacing [data-does]')?.getAttribute('data-does');
    const least = report?.held ?? 1, most = report ? report.curve[report.curve.length - 1].guides : 30;
    const button = (text, does, run, more = {}) => h('button', { type: 'button', text, 'data-does': does, onclick: run, ...more });
    place.replaceChildren(...[
      h('h2', { text: 'Best spacing' }),
      h('div', { class: 'choices' },
        button('−', 'fewer', () => take(now - 1), { 'aria-label': 'Best spacing with one guide fewer', disabled: now <= least }),
        button(`Best for ${now} guides`, 'best', () => take(now)),
        button('+', 'more', () => take(now + 1), { 'aria-label': 'Best spacing with one guide more', disabled: now >= most }),
        ...['bow', 'gap'].map(g => button(`by ${g}`, g, () => { goal = /** @type {'bow'|'gap'} */ (g); drawn = ''; if (curves[g]) draw(now); else curve(); }, { 'aria-pressed': String(goal === g) }))),
      report ? chart(report, now) : h('p', { class: 'quiet', text: open ?? 'Working out the curve…' }),
      report && h('p', { class: 'quiet', text: `Largest ${goal} of the running guides, best spacing for each number; the first ${report.held} ${report.held === 1 ? 'guide stays' : 'guides stay'}. ${report.pays_up_to < most ? `More than ${report.pays_up_to} do not pay (dashed).` : ''}` }),
    ].filter(Boolean));
    if (focused) /** @type {HTMLElement|null} */ (place.querySelector(`[data-does="${focused}"]`))?.focus();
  }

  function chart(report, now) {
    // Far fewer guides than now bow so much that the rest could not be told apart beside them.
    const steps = report.curve.filter(p => p.guides >= Math.min(now, report.curve[report.curve.length - 1].guides) - 2), value = p => goal === 'bow' ? p.largest_bow_mm : p.largest_gap_mm, top = Math.max(...steps.map(value));
    const x = n => LEFT + (n - steps[0].guides) / Math.max(1, steps.length - 1) * (WIDTH - LEFT - RIGHT), y = mm => TOP + (1 - mm / top) * (HEIGHT - TOP - BOTTOM);
    const { units } = settings, ticks = [0, top / 2];
    return s('svg', { viewBox: `0 0 ${WIDTH} ${HEIGHT}`, class: 'curve', role: 'group', 'aria-label': `Largest ${goal} against the number of guides` },
      ...ticks.flatMap(t => [s('line', { x1: LEFT, x2: WIDTH - RIGHT, y1: y(t), y2: y(t), class: 'grid' }), s('text', { x: LEFT - 6, y: y(t) + 5, 'text-anchor': 'end', text: bare(t, units) })]),
      s('polyline', { points: steps.map(p => `${x(p.guides).toFixed(1)},${y(value(p)).toFixed(1)}`).join(' '), class: 'falls' }),
      ...steps.map(p => {
        const says = `${p.guides} guides: largest ${goal} ${bare(value(p), units)} ${units}${p.takes_off_mm === null ? '' : `, takes off ${bare(p.takes_off_mm, units)}`}`;
        const point = s('g', { class: `point ${p.guides === now ? 'now' : ''} ${p.guides > report.pays_up_to ? 'unpaid' : ''}`, role: 'button', tabindex: 0, 'data-does': `n${p.guides}`, 'aria-label': `Take the best spacing with ${says}`, transform: `translate(${x(p.guides)} ${y(value(p))})`, onclick: () => take(p.guides),
          onkeydown: event => { if (event.key === 'Enter' || event.key === ' ') { event.preventDefault(); take(p.guides); } } },
        s('rect', { x: -15, y: -22, width: 30, height: 44, class: 'grab' }), s('text', { y: -10, 'text-anchor': 'middle', class: p.guides === now ? 'strong' : '', text: bare(value(p), units) }), p.guides === now ? s('rect', { x: -5.500, y: -5.500, width: 11, height: 11 }) : s('circle', { r: 5 }), s('title', { text: says }));
        return point;
      }),
      ...steps.map(p => s('text', { x: x(p.guides), y: HEIGHT - 24, 'text-anchor': 'middle', class: p.guides === now ? 'strong' : '', text: p.guides })),
      s('text', { x: (WIDTH + LEFT) / 2, y: HEIGHT - 6, 'text-anchor': 'middle', text: `guides, the tip-top not counted; ${goal} in ${units}` }));
  }
}
