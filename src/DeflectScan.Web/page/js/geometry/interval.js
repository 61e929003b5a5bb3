// Gap, clearance and bow of a pair of rings on a measured blank: the library's BlankShape, IntervalRule and Chord for the page, so that a dragged ring answers
// within a frame. The server's figures are the ones that stand; a test holds both to the last printed digit.

import { ArcCurve } from './spline.js';
import { refine } from './peak.js';

const LEAST_COSINE = 0.35;

export class Blank {
  /** @param {any} doc  a measurement document with an axis */
  constructor(doc) {
    const axis = doc.blank.axis;
    this.curve = new ArcCurve(axis.map(a => ({ x: a.x_mm, y: a.y_mm })));
    this.stations = this.curve.stations;
    this.radii = axis.map(a => a.diameter_mm / 2);
    this.lengthMm = this.curve.length;
    const steps = Math.max(2, Math.ceil(this.lengthMm));
    this.step = this.lengthMm / steps;
    this.samples = Array.from({ length: steps + 1 }, (_, i) => this.exact(i * this.step));
    let turn = 0;
    for (let i = 1; i <= steps; i++) {
      const a = this.samples[i - 1].t, b = this.samples[i].t;
      turn += Math.atan2(a.x * b.y - a.y * b.x, a.x * b.x + a.y * b.y);
    }
    this.insideSign = turn < 0 ? -1 : 1;
  }

  radius(s) {
    const t = this.stations, n = t.length;
    if (s <= t[0]) return this.radii[0];
    if (s >= t[n - 1]) return this.radii[n - 1];
    const i = this.curve.x.piece(s);
    return this.radii[i] + (s - t[i]) / (t[i + 1] - t[i]) * (this.radii[i + 1] - this.radii[i]);
  }

  exact(s) { return { s, p: this.curve.point(s), t: this.curve.tangent(s), r: this.radius(s) }; }

  between(from, to) {
    const last = this.samples.length;
    return [
      Math.min(Math.max(Math.floor(from / this.step) + 1, 0), last),
      Math.min(Math.max(Math.ceil(to / this.step) - 1, -1), last - 1),
    ];
  }

  /** The ring point at a place in the rod plane. */
  seen(mm) {
    const { s, offset } = this.curve.nearest(mm);
    return { s, mm, height: offset * this.insideSign };
  }

  /** The ring point of a guide at a station, at a distance from the axis on a side of the bend. */
  ringAt(s, distance, side) {
    const height = side === 'inside' ? distance : -distance, p = this.curve.point(s), n = this.curve.normal(s), d = height * this.insideSign;
    return { s, mm: { x: p.x + n.x * d, y: p.y + n.y * d }, height };
  }
}

/** The rings of a document. */
export function ringsOf(blank, doc) {
  return doc.guides.map(g => blank.ringAt(g.station_mm, g.height_mm, doc.side));
}

/** The largest distance of the axis between two stations from the straight chord of its points there. */
export function bow(blank, from, to) {
  const start = blank.curve.point(from), end = blank.curve.point(to);
  const l = Math.hypot(end.x - start.x, end.y - start.y), ax = (end.x - start.x) / l, ay = (end.y - start.y) / l;
  const off = p => Math.abs(ax * (p.y - start.y) - ay * (p.x - start.x));
  let best = { at: from, value: 0 };
  const [first, last] = blank.between(from, to);
  for (let i = first; i <= last; i++) {
    const d = off(blank.samples[i].p);
    if (d > best.value) best = { at: blank.samples[i].s, value: d };
  }
  if (first > last) best = { at: (from + to) / 2, value: off(blank.curve.point((from + to) / 2)) };
  return refine(s => off(blank.curve.point(s)), Math.max(from, best.at - blank.step), Math.min(to, best.at + blank.step), best);
}

/** Gap, clearance and bow, mm, of successive rings a (nearer the reel) and b. */
export function measure(blank, a, b) {
  const from = Math.min(a.s, b.s), to = Math.max(a.s, b.s);
  const chord = Math.hypot(b.mm.x - a.mm.x, b.mm.y - a.mm.y);
  const curve = bow(blank, from, to);
  if (!(chord > 0 && to > from)) {
    const d = Math.abs(a.height) - blank.radius(a.s);
    return { chord, gap: d, gapAt: a.s, clearance: d, bow: curve.value, bowAt: curve.at };
  }
  const along = { x: (b.mm.x - a.mm.x) / chord, y: (b.mm.y - a.mm.y) / chord };
  const { gap, clearance } = extremes(blank, a.mm, along, chord, from, to);
  return { chord, gap: gap.value, gapAt: gap.at, clearance: clearance.value, bow: curve.value, bowAt: curve.at };
}

function extremes(blank, start, along, chord, from, to) {
  const across = { x: -along.y, y: along.x };
  let gap = { at: 0, value: -Infinity }, clearance = { at: 0, value: Infinity }, steep = false;
  const [first, last] = blank.between(from, to);
  for (let i = first - 1; i <= last + 1; i++) {
    const q = i < first ? blank.exact(from) : i > last ? blank.exact(to) : blank.samples[i];
    const cosine = across.x * -q.t.y + across.y * q.t.x;
    if (Math.abs(cosine) < LEAST_COSINE) steep = true;
    take(q.s, Math.abs((across.x * (start.x - q.p.x) + across.y * (start.y - q.p.y)) / cosine) - q.r);
  }
  if (steep) return byNearest(blank, start, along, chord);
  const distance = s => {
    const p = blank.curve.point(s), n = blank.curve.normal(s);
    return Math.abs((across.x * (start.x - p.x) + across.y * (start.y - p.y)) / (across.x * n.x + across.y * n.y)) - blank.radius(s);
  };
  const around = (f, best) => refine(f, Math.max(from, best.at - blank.step), Math.min(to, best.at + blank.step), best);
  const low = around(s => -distance(s), { at: clearance.at, value: -clearance.value });
  return { gap: around(distance, gap), clearance: { at: low.at, value: -low.value } };

  function take(at, value) {
    if (value > gap.value) gap = { at, value };
    if (value < clearance.value) clearance = { at, value };
  }
}

/** Where the bend is so strong that normals run along the line: by every point's nearest axis point. */
function byNearest(blank, start, along, chord) {
  let gap = { at: 0, value: -Infinity }, clearance = { at: 0, value: Infinity };
  const steps = Math.max(16, Math.ceil(chord / blank.step));
  for (let k = 0; k <= steps; k++) {
    const { s, offset } = blank.curve.nearest({ x: start.x + along.x * chord * k / steps, y: start.y + along.y * chord * k / steps });
    const d = Math.abs(offset) - blank.radius(s);
    if (d > gap.value) gap = { at: s, value: d };
    if (d < clearance.value) clearance = { at: s, value: d };
  }
  return { gap, clearance };
}

/** Heights over the axis, mm, of the straight line between two rings along the straightened blank: for drawing. */
export function arc(blank, a, b, steps = 24) {
  const along = { x: b.mm.x - a.mm.x, y: b.mm.y - a.mm.y }, across = { x: -along.y, y: along.x };
  return Array.from({ length: steps + 1 }, (_, i) => {
    const s = a.s + (b.s - a.s) * i / steps, p = blank.curve.point(s), n = blank.curve.normal(s);
    const d = (across.x * (a.mm.x - p.x) + across.y * (a.mm.y - p.y)) / (across.x * n.x + across.y * n.y);
    return { s, height: i === 0 ? a.height : i === steps ? b.height : d * blank.insideSign };
  });
}
