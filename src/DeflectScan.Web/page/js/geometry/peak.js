// The largest value of a function near a sample: golden sections and parabolas, as the library's Peak.Refine (after Brent 1973, "Algorithms for minimization without derivatives").

const GOLDEN = (3 - Math.sqrt(5)) / 2;

/** @param {(x: number) => number} f @param {number} lo @param {number} hi @param {{at: number, value: number}} start */
export function refine(f, lo, hi, start, tolerance = 1e-4) {
  let x = start.at, w = x, v = x, fx = start.value, fw = fx, fv = fx, step = 0, before = 0;
  for (let i = 0; i < 40; i++) {
    const middle = (lo + hi) / 2;
    if (Math.abs(x - middle) <= 2 * tolerance - (hi - lo) / 2) break;
    let golden = true;
    if (Math.abs(before) > tolerance) {
      const r = (x - w) * (fv - fx);
      let q = (x - v) * (fw - fx), p = (x - v) * q - (x - w) * r;
      q = 2 * (q - r);
      p = q > 0 ? -p : p;
      q = Math.abs(q);
      if (Math.abs(p) < Math.abs(q * before / 2) && p > q * (lo - x) && p < q * (hi - x)) {
        before = step; step = p / q; golden = false;
      }
    }
    if (golden) { before = x < middle ? hi - x : lo - x; step = GOLDEN * before; }
    const u = x + (Math.abs(step) >= tolerance ? step : Math.sign(step || 1) * tolerance), fu = f(u);
    if (fu >= fx) {
      if (u < x) hi = x; else lo = x;
      [v, fv, w, fw, x, fx] = [w, fw, x, fx, u, fu];
      continue;
    }
    if (u < x) lo = u; else hi = u;
    if (fu >= fw || w === x) [v, fv, w, fw] = [w, fw, u, fu];
    else if (fu >= fv || v === x || v === w) [v, fv] = [u, fu];
  }
  return { at: x, value: fx };
}
