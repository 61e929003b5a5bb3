// Photo px and rod-plane mm, from the grid that the server sends: cubic convolution between its nodes (Keys 1981).

const kernel = t => [
  ((-0.5 * t + 1) * t - 0.5) * t,
  (1.5 * t - 2.5) * t * t + 1,
  ((-1.5 * t + 2) * t + 0.5) * t,
  (0.5 * t - 0.5) * t * t,
];

export class PlaneMap {
  /** @param {{x0: number, y0: number, stepPx: number, columns: number, rows: number, mm: number[]}} grid */
  constructor(grid) { this.grid = grid; }

  /** Where a place of the photo lies in the rod plane. */
  toMm(px) {
    const g = this.grid;
    const u = (px.x - g.x0) / g.stepPx, v = (px.y - g.y0) / g.stepPx;
    const column = Math.min(Math.max(Math.floor(u), 1), g.columns - 3), row = Math.min(Math.max(Math.floor(v), 1), g.rows - 3);
    const a = kernel(u - column), b = kernel(v - row);
    let x = 0, y = 0;
    for (let r = 0; r < 4; r++) {
      for (let c = 0; c < 4; c++) {
        const at = 2 * ((row + r - 1) * g.columns + column + c - 1), w = a[c] * b[r];
        x += w * g.mm[at];
        y += w * g.mm[at + 1];
      }
    }
    return { x, y };
  }

  /** The place of the photo that shows a point of the rod plane, found from a place near it. */
  toPx(mm, near) {
    let p = { ...near };
    for (let i = 0; i < 20; i++) {
      const here = this.toMm(p), right = this.toMm({ x: p.x + 1, y: p.y }), down = this.toMm({ x: p.x, y: p.y + 1 });
      const a = right.x - here.x, b = down.x - here.x, c = right.y - here.y, d = down.y - here.y;
      const det = a * d - b * c, ex = mm.x - here.x, ey = mm.y - here.y;
      const dx = (d * ex - b * ey) / det, dy = (a * ey - c * ex) / det;
      p = { x: p.x + dx, y: p.y + dy };
      if (Math.hypot(dx, dy) < 1e-6) break;
    }
    return p;
  }
}
