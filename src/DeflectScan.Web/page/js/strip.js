// The straightened strip: stations true, heights drawn four times as tall, the blank a straight bar, the line as arcs, each pair's gap and bow.

import { arc } from './geometry/interval.js';
import { bare, guideName, pairName, station, withUncertainty } from './format.js';
import { put, s } from './dom.js';
import { ghostsOf } from './moves.js';

/** Heights over stations; less where a very high ring needs it. What it is stands beside the strip. */
const TALLER = 4;
const TOP = 34, SIDE = 26, MOST = 130;
/** Half of what a finger needs to take hold of a ring, CSS px. */
const GRAB = 22;

/**
 * @param {HTMLElement} place
 * @param {{pair: (from: number) => void, ring: (index: number) => void, isFree?: boolean,
 *   slide?: (index: number, stationMm: number, done: boolean, since: number, heightMm: number) => void, step?: (index: number, towardsTip: number, up: number, event: KeyboardEvent) => void}} on
 *   with `slide`, rings are dragged along the blank, NaN where it was broken off; with `step`, arrow keys move them; `isFree`: every ring, also away from the blank
 */
export function strip(place, on) {
  let drawn = '';
  /** Heights keep their scale while a ring is dragged: nothing jumps. */
  let sized = { doc: null, tallest: 0, bow: 0 };
  /** What stands there. @type {any} */
  let now = null;
  /** The ring that is being dragged: the strip may be drawn anew meanwhile. @type {any} */
  let held = null;
  for (const name of ['pointermove', 'pointerup', 'pointercancel']) place.addEventListener(name, event => { if (event.pointerId === held?.id) pull(event); });
  return { draw, follow };

  /** @param {any} state  doc, blank, rings, figures, pair, guide, placed, units, pins; moved: guides that do not stand where they were; was: where they stood; targetMm: largest bow wished for; before: another photo's blank and rings; about: the pair in the middle while none is chosen */
  function draw(state) {
    const { doc, blank, units } = state;
    const scales = scalesOf(state), { x, base, width, height, scale, up } = scales;
    const pairs = doc.intervals.map((pair, i) => pairParts(state, pair, i)), rings = doc.guides.map((guide, i) => ringParts(state, guide, i, scales));
    now = { state, scales, pairs, rings };
    pairs.forEach((_, i) => shapePair(i));
    rings.forEach((_, i) => shapeRing(i));
    const svg = s('svg', { viewBox: `0 0 ${width} ${height}`, width, height, role: 'group', 'aria-label': `The blank straightened, heights ${(up / scale).toFixed(1)} times as tall` },
      s('rect', { x: x(blank.lengthMm), y: base - 2, width: blank.lengthMm * scale, height: 4, rx: 2, class: 'bar' }),
      ...(state.targetMm ? [s('rect', { x: x(blank.lengthMm), y: base, width: blank.lengthMm * scale, height: state.targetMm * up, class: 'target' })] : []),
      ...pairs.map(p => p.group), ...pairs.map(p => p.texts),
      ...(state.before ? beforeParts(state.before, scales) : ghosts(doc, scales)), ...(state.was ?? []).map(mm => s('path', { d: `M${x(mm)} ${base + 3}l-5 9h10Z`, class: 'was' })),
      ...ruler(x, base + scales.deepest + 32, blank.lengthMm, units, scale),
      ...rings.map(r => r.group), ...rings.map(r => r.name), ...state.pins.map(pin => pinMark(pin, x(pin.stationMm), base)));
    const focused = /** @type {HTMLElement|null} */ (place.querySelector(':focus'))?.dataset;
    const again = focused?.pair ? `[data-pair="${focused.pair}"]` : focused?.slides ? `[data-slides="${focused.slides}"]` : null;
    place.replaceChildren(svg);
    if (again) /** @type {HTMLElement|null} */ (place.querySelector(again))?.focus({ preventScroll: true });
    const about = state.pair ?? state.about, shown = `${state.id}/${about}/${width}`;
    if (shown !== drawn && about && about < state.rings.length) centre(x, state.rings[about - 1].s, state.rings[about].s);
    drawn = shown;
    return up / scale;
  }

  /** Follows a ring that is being moved: the same marks go elsewhere, and nothing else is touched. @param {number} i  of the ring, from 0 @param {number[]} pairs  from 0 */
  function follow(i, pairs) {
    for (const k of pairs) shapePair(k);
    shapeRing(i);
  }

  function scalesOf(state) {
    const { doc, blank } = state;
    const width = Math.max(place.clientWidth, 0.62 * blank.lengthMm, 560), scale = (width - 2 * SIDE) / blank.lengthMm;
    if (sized.doc !== doc) sized = { doc, ...(state.heights ?? heightsOf(doc)) };
    const up = Math.min(scale * TALLER, MOST / sized.tallest), sign = doc.side === 'outside' ? -1 : 1;
    const base = TOP + 22 + sized.tallest * up, deepest = Math.max(sized.bow, state.targetMm ?? 0) * up;
    return {
      width, scale, up, base, deepest, height: base + deepest + 70, bowText: base + deepest + 22,
      x: mm => SIDE + (blank.lengthMm - mm) * scale, y: mm => base - Math.max(sign * mm, -3) * up, station: px => blank.lengthMm - (px - SIDE) / scale, off: px => (base - px) / up,
    };
  }

  /** The pair of the answer stands in the middle. */
  function centre(x, a, b) {
    place.scrollLeft = (x(a) + x(b)) / 2 - place.clientWidth / 2;
  }

  function pairParts(state, pair, i) {
    const part = { field: s('rect', { y: 2, class: 'field', rx: 6 }), line: s('path', { class: 'line' }), gap: s('line', { class: 'gap' }), bow: s('path', { class: 'bow' }),
      gapText: s('text', { y: 20, class: 'figure gap-text', 'text-anchor': 'middle' }), bowText: s('text', { class: 'figure bow-text', 'text-anchor': 'middle' }) };
    const worst = state.worst === pair.from ? 'worst' : '';
    const group = s('g', {
      class: `pair ${state.pair === pair.from ? 'chosen' : ''} ${worst}`, role: 'button', tabindex: 0, 'data-pair': pair.from, 'aria-pressed': String(state.pair === pair.from),
      onclick: () => on.pair(pair.from),
      onkeydown: event => {
        if (event.key === 'Enter' || event.key === ' ') { event.preventDefault(); on.pair(pair.from); }
      },
    }, part.field, part.line, part.gap, part.bow);
    // A pair's figures stand beside its button and not in it: what is said of it stands in its label.
    return { ...part, group, texts: s('g', { class: `pair-text ${worst}`, 'aria-hidden': 'true' }, part.gapText, part.bowText) };
  }

  function shapePair(i) {
    const { state, scales: { x, y, up, base, height, bowText }, pairs } = now, { blank, rings, figures, units, doc } = state, part = pairs[i];
    const a = rings[i], b = rings[i + 1], own = figures[i], left = x(a.s), right = x(b.s), middle = (left + right) / 2;
    const line = arc(blank, a, b, 48), at = line.reduce((best, p) => Math.abs(p.s - own.gapAt) < Math.abs(best.s - own.gapAt) ? p : best);
    const texts = figureTexts(state, doc.intervals[i], i), roomy = right - left > 96;
    put(part.field, { x: left, width: Math.max(0, right - left), height: height - 4 });
    put(part.line, { d: line.map((p, k) => `${k ? 'L' : 'M'}${x(p.s).toFixed(1)} ${y(p.height).toFixed(1)}`).join('') });
    put(part.gap, { x1: x(own.gapAt), y1: base - 2, x2: x(own.gapAt), y2: y(at.height) });
    put(part.bow, { d: `M${left} ${base}Q${middle} ${base + 2 * own.bow * up} ${right} ${base}` });
    put(part.gapText, { x: middle });
    put(part.bowText, { x: middle, y: bowText });
    part.gapText.textContent = roomy ? texts.gapText : bare(own.gap, units);
    part.bowText.textContent = roomy ? texts.bowText : bare(own.bow, units);
    put(part.group, { 'aria-label': `Guides ${pairName(doc, doc.intervals[i])}: gap ${texts.gapText} ${units}, bow ${texts.bowText} ${units}${state.worst === i + 1 ? ', follows worst' : ''}` });
  }

  function ringParts(state, guide, i, scales) {
    const placed = state.placed.includes(guide.index) || guide.source === 'marked', moves = on.slide && (on.isFree || guide.kind !== 'tip');
    const classes = ['ring', state.guide === guide.index && 'chosen', guide.source === 'inferred' && !placed && 'inferred', state.moved?.has(guide.index) && 'moved', moves && 'slides', on.isFree && 'free'];
    const part = { stem: s('line', { class: 'stem' }), mark: placed ? s('rect', { x: -5, y: -5, width: 10, height: 10, class: 'mark' }) : s('circle', { r: 5.5, class: 'mark' }), title: s('title') };
    const head = s('g', {}, moves && s('circle', { r: GRAB, class: 'grab' }), part.mark);
    // As with pairs, the number stands beside the button: what is said of the ring stands in its label.
    const name = s('text', { y: -11, class: 'number', 'text-anchor': 'middle', 'aria-hidden': 'true', 'pointer-events': 'none', text: guideName(guide) });
    const group = s('g', { class: classes.filter(Boolean).join(' '), onclick: !moves && (() => on.ring(guide.index)) }, part.stem, head, !moves && part.title);
    if (moves) slides(group, guide);
    return { ...part, head, group, name, guide, moves };
  }

  function shapeRing(i) {
    const { state, scales: { x, y, base }, rings } = now, ring = state.rings[i], part = rings[i], cx = x(ring.s), cy = y(ring.height);
    put(part.stem, { x1: cx, y1: base, x2: cx, y2: cy });
    for (const placed of [part.head, part.name]) put(placed, { transform: `translate(${cx} ${cy})` });
    const says = `${part.guide.kind === 'tip' ? 'Tip-top' : `Guide ${part.guide.index}`}: ${station(ring.s, state.units)} from the tip`;
    part.title.textContent = says;
    if (part.moves) put(part.group, { 'aria-label': `${says}. Arrow keys move it${on.isFree ? '' : ' along the blank'}.` });
  }

  /** A ring that is moved by mouse, finger and keys. */
  function slides(group, guide) {
    put(group, { role: 'button', tabindex: 0, 'data-slides': guide.index });
    group.addEventListener('pointerdown', event => {
      if (event.button !== 0 || held) return;
      const ring = now.state.rings[guide.index - 1], grip = at(event);
      held = { id: event.pointerId, index: guide.index, x: event.clientX, y: event.clientY, s: ring.s - grip.s, height: Math.abs(ring.height) - grip.height, began: false };
      place.setPointerCapture(event.pointerId);
    });
    // A finger on a guide moves the guide and not the strip.
    group.addEventListener('touchstart', event => event.preventDefault(), { passive: false });
    group.addEventListener('keydown', event => {
      const [towardsTip, up] = { ArrowRight: [1, 0], ArrowLeft: [-1, 0], ...(on.isFree && { ArrowUp: [0, 1], ArrowDown: [0, -1] }) }[event.key] ?? [0, 0];
      if ((towardsTip || up) && !event.ctrlKey && !event.metaKey) { event.preventDefault(); on.step?.(guide.index, towardsTip, up, event); }
      else if (event.key === 'Enter' || event.key === ' ') { event.preventDefault(); on.ring(guide.index); }
    });
  }

  /** Where the pointer is on the straightened blank: its station, and how far off the blank, mm. */
  function at(event) {
    const box = /** @type {Element} */ (place.querySelector('svg')).getBoundingClientRect();
    return { s: now.scales.station(event.clientX - box.left), height: now.scales.off(event.clientY - box.top) };
  }

  function pull(event) {
    const { index, began } = held, grip = at(event), ended = event.type !== 'pointermove';
    held.began ||= Math.abs(event.clientX - held.x) > 3 || (on.isFree && Math.abs(event.clientY - held.y) > 3);
    const { s: off, height } = held;
    if (ended) held = null;
    if (ended && !began) { if (event.type === 'pointerup') on.ring(index); return; }
    if (ended || held.began) on.slide?.(index, event.type === 'pointercancel' ? NaN : grip.s + off, ended, event.timeStamp, grip.height + height);
  }

  function pinMark(pin, cx, base) {
    return s('g', { class: 'pin', transform: `translate(${cx} ${base - 2})` },
      s('path', { d: 'M0 0L-9 -16A11 11 0 1 1 9 -16Z', class: 'mark' }), s('text', { x: 0, y: -17, 'text-anchor': 'middle', class: 'number', text: pin.number }));
  }
}

/** How high the rings of a layout stand and how deep it bows: two strips drawn to the larger of both are to one scale. */
export function heightsOf(doc) {
  return { tallest: Math.max(...doc.guides.map(g => g.height_mm), ...doc.intervals.map(p => p.gap_mm * 0.6), 12), bow: Math.max(...doc.intervals.map(p => p.bow_mm), 2) };
}

/** Gap and bow in words: with their uncertainty where they were measured, without where a ring is being moved. */
function figureTexts({ live, figures, units }, pair, i) {
  const of = (mm, uncertaintyMm) => live.has(i) ? bare(mm, units) : withUncertainty(mm, uncertaintyMm, units);
  return { gapText: of(figures[i].gap, pair.gap_uncertainty_mm), bowText: of(figures[i].bow, pair.bow_uncertainty_mm) };
}

/** Where the suggestion puts guides that it moves or adds. */
function ghosts(doc, { x, y, base }) {
  return ghostsOf(doc).map(g => s('g', { class: 'ghost' },
    s('line', { x1: x(g.station_mm), x2: x(g.station_mm), y1: base, y2: y(g.height_mm * (doc.side === 'outside' ? -1 : 1)) }),
    s('circle', { cx: x(g.station_mm), cy: y(g.height_mm * (doc.side === 'outside' ? -1 : 1)), r: 5 })));
}

/** How it was on another photo: its line and rings, dashed. @param {{blank: any, rings: any[]}} before */
function beforeParts({ blank, rings }, { x, y, base }) {
  return [s('g', { class: 'before', 'aria-hidden': 'true' },
    ...rings.slice(1).map((ring, i) => s('path', { d: arc(blank, rings[i], ring).map((p, k) => `${k ? 'L' : 'M'}${x(p.s).toFixed(1)} ${y(p.height).toFixed(1)}`).join('') })),
    ...rings.map(ring => s('line', { x1: x(ring.s), x2: x(ring.s), y1: base, y2: y(ring.height) })),
    ...rings.map(ring => s('circle', { cx: x(ring.s), cy: y(ring.height), r: 4 })))];
}

function ruler(x, top, lengthMm, units, scale) {
  const step = units === 'mm' ? 100 : 4 * 25.4, each = step * scale < 46 ? 2 : 1;
  return Array.from({ length: Math.floor(lengthMm / step) + 1 }, (_, i) => i * step).flatMap((mm, i) => [
    s('line', { x1: x(mm), x2: x(mm), y1: top, y2: top + (i % each ? 5 : 8), class: 'tick' }),
    i % each === 0 && s('text', { x: x(mm), y: top + 24, class: 'tick-text', 'text-anchor': 'middle', text: units === 'mm' ? mm : i * 4 }),
  ]).filter(Boolean);
}
