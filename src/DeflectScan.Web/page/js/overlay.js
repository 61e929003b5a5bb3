// Marks over the photo: axis, line, gaps, rings, pins. Their size is the screen's, their places are the photo's.

import { bare, guideName } from './format.js';
import { s } from './dom.js';
import { ghostsOf } from './moves.js';

/** Radius within which a ring is taken hold of, CSS px: at least four times the drawn one, and 44 px across. */
const GRAB = 24, DRAWN = 6;

/**
 * @param {SVGElement} svg
 * @param {ReturnType<import('./photo-view.js').photoView>} photo
 * @param {{ring: (index: number) => void, pin: (pin: any) => void, drag: (index: number, px: {x: number, y: number}|null, done: boolean, since: number) => void,
 *   nudge: (index: number, dx: number, dy: number) => void, pair: (from: number) => void}} on
 */
export function overlay(svg, photo, on) {
  /** @type {any} */
  let state = null;
  let drag = null;
  return { draw, place, follow };

  function draw(now) {
    state = now;
    const focused = svg.querySelector(':focus')?.getAttribute('data-ring');
    const { doc } = state;
    svg.replaceChildren(
      s('g', { class: 'paths' }, path('axis halo'), path('axis'), ...doc.intervals.flatMap(p => [path('line halo', p), path('line', p)]), ...doc.intervals.map(p => path('gap', p))),
      s('g', { class: 'ghosts' }, ...ghostsOf(doc).map(g => s('g', { class: 'ghost', 'data-x': g.ring_px[0], 'data-y': g.ring_px[1] }, s('circle', { r: 7, class: 'halo' }), s('circle', { r: 7 })))),
      s('g', { class: 'ring-marks' }, ...doc.guides.map(ringMark)),
      s('g', { class: 'pins' }, ...state.pins.map(pinMark)));
    place();
    if (focused) /** @type {HTMLElement|null} */ (svg.querySelector(`[data-ring="${focused}"]`))?.focus({ preventScroll: true });
  }

  function path(kind, pair = null) {
    const classes = `${kind} ${pair && state.pair === pair.from ? 'chosen' : ''} ${pair && state.worst === pair.from ? 'worst' : ''}`;
    return s('polyline', { class: classes, 'data-kind': kind.split(' ')[0], 'data-from': pair ? pair.from : null });
  }

  /** Puts everything where it belongs in what is seen of the photo now. */
  function place() {
    if (!state) return;
    for (const line of svg.querySelectorAll('polyline')) placeLine(line);
    for (const mark of svg.querySelectorAll('[data-ring]')) mark.setAttribute('transform', `translate(${at(state.ringsPx[Number(mark.getAttribute('data-ring')) - 1])})`);
    for (const ghost of svg.querySelectorAll('.ghost')) ghost.setAttribute('transform', `translate(${at({ x: Number(ghost.getAttribute('data-x')), y: Number(ghost.getAttribute('data-y')) })})`);
    for (const mark of svg.querySelectorAll('[data-pin]')) {
      const pin = state.pins.find(p => p.number === Number(mark.getAttribute('data-pin')));
      mark.setAttribute('transform', `translate(${at(pin)})`);
    }
  }

  /** Follows a ring that is being moved: its mark and its pairs' lines. @param {number} i  of the ring, from 0 @param {number[]} pairs  from 0 */
  function follow(i, pairs) {
    for (const k of pairs) for (const line of svg.querySelectorAll(`[data-from="${k + 1}"]`)) placeLine(line);
    svg.querySelector(`[data-ring="${i + 1}"]`)?.setAttribute('transform', `translate(${at(state.ringsPx[i])})`);
  }

  function at(p) {
    const q = photo.toScreen(p);
    return `${q.x.toFixed(1)},${q.y.toFixed(1)}`;
  }

  function placeLine(line) {
    const kind = line.getAttribute('data-kind'), from = Number(line.getAttribute('data-from'));
    const points = kind === 'axis' ? state.axisPx : kind === 'line' ? [state.ringsPx[from - 1], state.ringsPx[from]] : gapPx(from);
    line.setAttribute('points', points.map(at).join(' '));
  }

  /** The gap: from the blank at its station across to the line. */
  function gapPx(from) {
    const axis = state.doc.blank.axis, s0 = state.figures[from - 1].gapAt;
    let i = axis.findIndex(a => a.s_mm >= s0);
    i = Math.min(Math.max(i, 1), axis.length - 1);
    const a = axis[i - 1], b = axis[i], t = (s0 - a.s_mm) / (b.s_mm - a.s_mm);
    const q = { x: a.x_px + t * (b.x_px - a.x_px), y: a.y_px + t * (b.y_px - a.y_px) };
    const n = { x: -(b.y_px - a.y_px), y: b.x_px - a.x_px };
    const p = state.ringsPx[from - 1], r = state.ringsPx[from], d = { x: r.x - p.x, y: r.y - p.y };
    const along = (n.x * (q.y - p.y) - n.y * (q.x - p.x)) / (n.x * d.y - n.y * d.x);
    return [q, { x: p.x + along * d.x, y: p.y + along * d.y }];
  }

  function ringMark(guide) {
    const index = guide.index, placed = state.placed.includes(index) || guide.source === 'marked';
    const classes = `ring-mark ${state.guide === index ? 'chosen' : ''} ${guide.source === 'inferred' && !placed ? 'inferred' : ''} ${state.moved?.has(index) ? 'moved' : ''}`;
    const shape = kind => placed
      ? s('rect', { x: -DRAWN, y: -DRAWN, width: 2 * DRAWN, height: 2 * DRAWN, class: kind })
      : s('circle', { r: DRAWN, class: kind });
    const how = state.seen ? state.seen(guide) : placed ? 'placed by you' : guide.source === 'inferred' ? 'inferred' : 'seen';
    const mark = s('g', {
      class: classes, role: 'button', tabindex: 0, 'data-ring': index, 'aria-pressed': String(state.guide === index),
      'aria-label': `${guide.kind === 'tip' ? 'Tip-top’s ring' : `Guide ${guide.index}`}, ${how}; ${bare(guide.station_mm, state.units)} ${state.units} from the tip. Arrow keys move it.`,
    },
    s('circle', { r: GRAB, class: 'grab' }), shape('halo'), shape('mark'),
    s('text', { y: -13, 'text-anchor': 'middle', text: guideName(guide) }));
    mark.addEventListener('pointerdown', event => begin(event, index, mark));
    mark.addEventListener('keydown', event => keys(event, index));
    return mark;
  }

  function pinMark(pin) {
    return s('g', {
      class: 'pin', role: 'button', tabindex: 0, 'data-pin': pin.number, 'aria-label': `Place ${pin.number}: look here`,
      onclick: () => on.pin(pin), onpointerdown: event => event.stopPropagation(),
      onkeydown: event => { if (event.key === 'Enter' || event.key === ' ') { event.preventDefault(); on.pin(pin); } },
    },
    s('circle', { cy: -40, r: 22, class: 'grab' }),
    s('path', { d: 'M0 -24L-10 -41A13 13 0 1 1 10 -41Z', class: 'mark' }), s('text', { y: -43, 'text-anchor': 'middle', class: 'number', text: pin.number }));
  }

  function begin(event, index, mark) {
    if (event.button !== 0 || drag) return;
    event.stopPropagation();
    event.preventDefault();
    mark.focus({ preventScroll: true });
    const grip = photo.here(event), ring = photo.toScreen(state.ringsPx[index - 1]);
    drag = { id: event.pointerId, start: grip, off: { x: ring.x - grip.x, y: ring.y - grip.y }, began: false };
    svg.setPointerCapture(event.pointerId);
    const where = e => { const p = photo.here(e); return photo.toPhoto({ x: p.x + drag.off.x, y: p.y + drag.off.y }); };
    const move = e => {
      if (e.pointerId !== drag?.id) return;
      const p = photo.here(e);
      if (!drag.began && Math.hypot(p.x - drag.start.x, p.y - drag.start.y) < 4) return;
      drag.began = true;
      on.drag(index, where(e), false, e.timeStamp);
    };
    const end = e => {
      if (e.pointerId !== drag?.id) return;
      for (const [name, f] of [['pointermove', move], ['pointerup', end], ['pointercancel', end]]) svg.removeEventListener(name, f);
      const { began } = drag, px = where(e), kept = e.type === 'pointerup';
      drag = null;
      if (!began) on.ring(index);
      else on.drag(index, kept ? px : null, true, e.timeStamp);
    };
    svg.addEventListener('pointermove', move);
    svg.addEventListener('pointerup', end);
    svg.addEventListener('pointercancel', end);
  }

  function keys(event, index) {
    const by = event.shiftKey ? 1 : 0.1;
    const to = { ArrowLeft: [-by, 0], ArrowRight: [by, 0], ArrowUp: [0, by], ArrowDown: [0, -by] }[event.key];
    if (to && !event.ctrlKey && !event.metaKey) {
      event.preventDefault();
      event.stopPropagation();
      on.nudge(index, to[0], to[1]);
    } else if (event.key === 'Enter' || event.key === ' ') {
      event.preventDefault();
      on.ring(index);
    }
  }
}
