// The straightened strip: stations true, heights drawn four times as tall, the blank a straight bar, the line as arcs, each pair's gap and bow.

import { arc } from './interval.js';
import { bare, guideName, pairName, station, withUncertainty } from './format.js';
import { s } from './dom.js';
import { ghostsOf } from './moves.js';

/** Heights over stations; less where a very high ring needs it. What it is stands beside the strip. */
const TALLER = 4;
const TOP = 34, SIDE = 26, MOST = 130;

/**
 * @param {HTMLElement} place
 * @param {{pair: (from: number) => void, ring: (index: number) => void}} on
 */
export function strip(place, on) {
  let drawn = '';
  /** Heights keep their scale while a ring is dragged: nothing jumps. */
  let sized = { doc: null, tallest: 0, bow: 0 };
  return { draw };

  /** @param {any} state  doc, blank, rings, figures, pair, guide, placed, units, pins */
  function draw(state) {
    const { doc, blank, rings, units } = state;
    const least = 0.62 * blank.lengthMm;
    const width = Math.max(place.clientWidth, least, 560);
    const scale = (width - 2 * SIDE) / blank.lengthMm;
    if (sized.doc !== doc) sized = { doc, tallest: Math.max(...doc.guides.map(g => g.height_mm), ...doc.intervals.map(p => p.gap_mm * 0.6), 12), bow: Math.max(...doc.intervals.map(p => p.bow_mm), 2) };
    const { tallest } = sized;
    const up = Math.min(scale * TALLER, MOST / tallest), sign = doc.side === 'outside' ? -1 : 1;
    const x = mm => SIDE + (blank.lengthMm - mm) * scale;
    const base = TOP + 22 + tallest * up, deepest = Math.max(sized.bow, state.targetMm ?? 0) * up;
    const y = mm => base - Math.max(sign * mm, -3) * up;
    const height = base + deepest + 70;
    const scales = { x, y, up, base, height, bowText: base + deepest + 22 };
    const parts = [
      s('rect', { x: x(blank.lengthMm), y: base - 2, width: blank.lengthMm * scale, height: 4, rx: 2, class: 'bar' }),
      ...(state.targetMm ? [s('rect', { x: x(blank.lengthMm), y: base, width: blank.lengthMm * scale, height: state.targetMm * up, class: 'target' })] : []),
      ...doc.intervals.map((pair, i) => pairParts(state, pair, i, scales)),
      ...doc.intervals.map((pair, i) => pairText(state, pair, i, scales)),
      ...(state.before ? beforeParts(state.before, scales) : ghosts(doc, scales)),
      ...ruler(x, base + deepest + 32, blank.lengthMm, units, scale),
      ...rings.map((ring, i) => ringMark(state, ring, i, x(ring.s), y(ring.height), base)),
      ...state.pins.map(pin => pinMark(pin, x(pin.stationMm), base)),
    ];
    const svg = s('svg', { viewBox: `0 0 ${width} ${height}`, width, height, role: 'group', 'aria-label': `The blank straightened, heights ${(up / scale).toFixed(1)} times as tall` }, ...parts);
    const focused = /** @type {HTMLElement|null} */ (place.querySelector(':focus'))?.dataset.pair;
    place.replaceChildren(svg);
    if (focused) /** @type {HTMLElement|null} */ (place.querySelector(`[data-pair="${focused}"]`))?.focus();
    const shown = `${state.id}/${state.pair}/${width}`;
    if (shown !== drawn && state.pair) centre(x, rings[state.pair - 1].s, rings[state.pair].s);
    drawn = shown;
    return up / scale;
  }

  /** The pair of the answer stands in the middle. */
  function centre(x, a, b) {
    place.scrollLeft = (x(a) + x(b)) / 2 - place.clientWidth / 2;
  }

  function pairParts(state, pair, i, { x, y, up, base, height }) {
    const { blank, rings, figures, units, doc } = state;
    const a = rings[i], b = rings[i + 1], own = figures[i];
    const left = x(a.s), right = x(b.s), middle = (left + right) / 2;
    const chosen = state.pair === pair.from, worst = state.worst === pair.from;
    const line = arc(blank, a, b).map((p, k) => `${k ? 'L' : 'M'}${x(p.s).toFixed(1)} ${y(p.height).toFixed(1)}`).join('');
    const at = arc(blank, { ...a }, { ...b }, 48).reduce((best, p) => Math.abs(p.s - own.gapAt) < Math.abs(best.s - own.gapAt) ? p : best);
    const { gapText, bowText } = figureTexts(state, pair, i);
    return s('g', {
      class: `pair ${chosen ? 'chosen' : ''} ${worst ? 'worst' : ''}`, role: 'button', tabindex: 0, 'data-pair': pair.from,
      'aria-pressed': String(chosen),
      'aria-label': `Guides ${pairName(doc, pair)}: gap ${gapText} ${units}, bow ${bowText} ${units}${worst ? ', follows worst' : ''}`,
      onclick: () => on.pair(pair.from),
      onkeydown: event => {
        if (event.key === 'Enter' || event.key === ' ') { event.preventDefault(); on.pair(pair.from); }
      },
    },
    s('rect', { x: left, y: 2, width: Math.max(0, right - left), height: height - 4, class: 'field', rx: 6 }),
    s('path', { d: line, class: 'line' }),
    s('line', { x1: x(own.gapAt), y1: base - 2, x2: x(own.gapAt), y2: y(at.height), class: 'gap' }),
    s('path', { d: `M${left} ${base}Q${middle} ${base + 2 * own.bow * up} ${right} ${base}`, class: 'bow' }));
  }

  /** A pair's figures, beside its button and not in it: what is said of it stands in its label. */
  function pairText(state, pair, i, { x, bowText: bowY }) {
    const { rings, figures, units } = state, left = x(rings[i].s), right = x(rings[i + 1].s), middle = (left + right) / 2;
    const { gapText, bowText } = figureTexts(state, pair, i), roomy = right - left > 96;
    return s('g', { class: `pair-text ${state.worst === pair.from ? 'worst' : ''}`, 'aria-hidden': 'true' },
      s('text', { x: middle, y: 20, class: 'figure gap-text', 'text-anchor': 'middle', text: roomy ? gapText : bare(figures[i].gap, units) }),
      s('text', { x: middle, y: bowY, class: 'figure bow-text', 'text-anchor': 'middle', text: roomy ? bowText : bare(figures[i].bow, units) }));
  }

  function ringMark(state, ring, i, cx, cy, base) {
    const guide = state.doc.guides[i], chosen = state.guide === guide.index;
    const placed = state.placed.includes(guide.index) || guide.source === 'marked';
    return s('g', {
      class: `ring ${chosen ? 'chosen' : ''} ${guide.source === 'inferred' && !placed ? 'inferred' : ''}`,
      onclick: () => on.ring(guide.index),
    },
    s('line', { x1: cx, y1: base, x2: cx, y2: cy, class: 'stem' }),
    placed ? s('rect', { x: cx - 5, y: cy - 5, width: 10, height: 10, class: 'mark' }) : s('circle', { cx, cy, r: 5.5, class: 'mark' }),
    s('text', { x: cx, y: cy - 11, class: 'number', 'text-anchor': 'middle', text: guideName(guide) }),
    s('title', { text: `${guide.kind === 'tip' ? 'Tip-top' : `Guide ${guide.index}`}: ${station(ring.s, state.units)} from the tip` }));
  }

  function pinMark(pin, cx, base) {
    return s('g', { class: 'pin', transform: `translate(${cx} ${base - 2})` },
      s('path', { d: 'M0 0L-9 -16A11 11 0 1 1 9 -16Z', class: 'mark' }), s('text', { x: 0, y: -17, 'text-anchor': 'middle', class: 'number', text: pin.number }));
  }
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
