// A smooth plane curve by arc length, as the library's ArcCurve: natural cubic splines x(s), y(s) whose parameter is the curve's own length.
// @typedef {{x: number, y: number}} Vec   a point or direction

const NODE = [0, 0.5384693101056831, -0.5384693101056831, 0.9061798459386640, -0.9061798459386640];
const WEIGHT = [0.5688888888888889, 0.4786286704993665, 0.4786286704993665, 0.2369268850561891, 0.2369268850561891];

/** Natural cubic spline through sorted knots: values, first and second derivatives. */
class Spline {
  constructor(t, v) {
    const n = t.length;
    this.t = t; this.v = v; this.m = new Float64Array(n);
    const c = new Float64Array(n), d = new Float64Array(n);
    for (let i = 1; i < n - 1; i++) {
      const a = t[i] - t[i - 1], b = t[i + 1] - t[i];
      const right = 6 * ((v[i + 1] - v[i]) / b - (v[i] - v[i - 1]) / a);
      const pivot = 2 * (a + b) - a * c[i - 1];
      c[i] = b / pivot;
      d[i] = (right - a * d[i - 1]) / pivot;
    }
    for (let i = n - 2; i > 0; i--) this.m[i] = d[i] - c[i] * this.m[i + 1];
  }

  /** Index of the piece that holds x. */
  piece(x) {
    let low = 0, high = this.t.length - 2;
    while (low < high) {
      const middle = (low + high + 1) >> 1;
      if (this.t[middle] <= x) low = middle; else high = middle - 1;
    }
    return low;
  }

  at(x, i = this.piece(x)) {
    const h = this.t[i + 1] - this.t[i], b = (x - this.t[i]) / h, a = 1 - b;
    return a * this.v[i] + b * this.v[i + 1] + ((a * a * a - a) * this.m[i] + (b * b * b - b) * this.m[i + 1]) * h * h / 6;
  }

  slope(x, i = this.piece(x)) {
    const h = this.t[i + 1] - this.t[i], b = (x - this.t[i]) / h, a = 1 - b;
    return (this.v[i + 1] - this.v[i]) / h + ((1 - 3 * a * a) * this.m[i] + (3 * b * b - 1) * this.m[i + 1]) * h / 6;
  }

  second(x, i = this.piece(x)) {
    const b = (x - this.t[i]) / (this.t[i + 1] - this.t[i]);
    return (1 - b) * this.m[i] + b * this.m[i + 1];
  }
}

export class ArcCurve {
  /** @param {{x: number, y: number}[]} knots  at least three, no two successive ones equal */
  constructor(knots) {
    this.knots = knots;
    const x = knots.map(p => p.x), y = knots.map(p => p.y);
    let t = [0];
    for (let i = 1; i < knots.length; i++) t.push(t[i - 1] + Math.hypot(x[i] - x[i - 1], y[i] - y[i - 1]));
    this.fit(t, x, y);
    for (let pass = 0; pass < 4; pass++) {
      const longer = this.remeasured(t);
      const change = Math.max(...longer.map((v, i) => Math.abs(v - t[i])));
      t = longer;
      this.fit(t, x, y);
      if (change < 1e-12 * t[t.length - 1]) break;
    }
  }

  fit(t, x, y) {
    this.stations = t; this.x = new Spline(t, x); this.y = new Spline(t, y);
    this.length = t[t.length - 1];
  }

  remeasured(t) {
    const longer = [0];
    for (let i = 1; i < t.length; i++) {
      const half = (t[i] - t[i - 1]) / 2, middle = (t[i] + t[i - 1]) / 2;
      let sum = 0;
      for (let k = 0; k < 5; k++) {
        const at = middle + half * NODE[k];
        sum += WEIGHT[k] * Math.hypot(this.x.slope(at, i - 1), this.y.slope(at, i - 1));
      }
      longer.push(longer[i - 1] + half * sum);
    }
    return longer;
  }

  /** Beyond both ends the curve goes straight on. */
  point(s) {
    const at = Math.min(Math.max(s, 0), this.length), i = this.x.piece(at);
    const p = { x: this.x.at(at, i), y: this.y.at(at, i) };
    if (at === s) return p;
    const t = this.tangent(at);
    return { x: p.x + t.x * (s - at), y: p.y + t.y * (s - at) };
  }

  tangent(s) {
    const at = Math.min(Math.max(s, 0), this.length), i = this.x.piece(at);
    const x = this.x.slope(at, i), y = this.y.slope(at, i), l = Math.hypot(x, y);
    return { x: x / l, y: y / l };
  }

  /** The tangent turned by +90 degrees. */
  normal(s) {
    const t = this.tangent(s);
    return { x: -t.y, y: t.x };
  }

  curvature(s) {
    if (s < 0 || s > this.length) return 0;
    const i = this.x.piece(s), dx = this.x.slope(s, i), dy = this.y.slope(s, i);
    return (dx * this.y.second(s, i) - dy * this.x.second(s, i)) / (dx * dx + dy * dy) ** 1.5;
  }

  /** The nearest point of the curve: its station and the signed offset along the normal. */
  nearest(p) {
    let s = 0, best = Infinity;
    this.knots.forEach((k, i) => {
      const d = (k.x - p.x) ** 2 + (k.y - p.y) ** 2;
      if (d < best) { best = d; s = this.stations[i]; }
    });
    for (let i = 0; i < 30; i++) {
      const t = this.tangent(s), q = this.point(s), ax = p.x - q.x, ay = p.y - q.y;
      const step = (ax * t.x + ay * t.y) / Math.max(1 - this.curvature(s) * (-t.y * ax + t.x * ay), 0.2);
      s += Math.min(Math.max(step, -this.length / 8), this.length / 8);
      if (Math.abs(step) < 1e-11 * this.length) break;
    }
    const q = this.point(s), n = this.normal(s);
    return { s, offset: n.x * (p.x - q.x) + n.y * (p.y - q.y) };
  }
}
