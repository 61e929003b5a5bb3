// The rod straight, as it lies to be taped: stations true, rings drawn larger than they are, the cone of coils from the spool.

import { s } from '../dom.js';

const LEFT = 20, RIGHT = 20, BASE = 96, HEIGHT = 210;

/** @param {any} report  a plan @param {'mm'|'in'} units @param {number} room  CSS px that there are across */
export function rodPicture(report, units, room) {
  const WIDTH = Math.max(room, 320);
  const { input, guides } = report, length = input.rod_length_mm, scale = (WIDTH - LEFT - RIGHT) / length, below = input.kind !== 'casting', sign = below ? 1 : -1;
  const x = fromTip => LEFT + (length - fromTip) * scale, reel = x(guides[guides.length - 1].from_reel_mm), up = Math.min(1.5, 60 / Math.max(...guides.map(g => g.ring_size), 20)), base = below ? BASE - 40 : BASE + 20;
  const y = mm => base + sign * mm * up, centre = g => g.cone_height_mm ?? g.ring_size * 0.75;
  const coned = guides.filter(g => g.cone_mm !== null), spool = report.spool;
  const parts = [
    s('rect', { x: x(length), y: base - 7, width: reel - x(length) + 8, height: 14, rx: 6, class: 'handle' }),
    s('path', { d: `M${reel} ${base - 4}L${x(0)} ${base - 1}V${base + 1}L${reel} ${base + 4}Z`, class: 'bar' }),
    s('g', { class: 'reel' }, s('line', { x1: reel - 26, x2: reel - 26, y1: base, y2: y(spool[1]?.value ?? 26) }), spool.length
      ? s('rect', { x: reel - 44, y: y(spool[1].value) - spool[0].value * up / 2, width: 34, height: spool[0].value * up, rx: 3 }) : s('circle', { cx: reel - 26, cy: y(22), r: 18 })),
    coned.length > 0 && spool.length > 0 && s('path', { class: 'cone', d: edge(1) + edge(-1) }),
    s('polyline', { class: 'line', points: [[reel - 10, y(spool[1]?.value ?? 22)], ...guides.map(g => [x(g.from_tip_mm), y(g.role === 'tip_top' ? 3 : centre(g))])].map(p => p.map(v => v.toFixed(1)).join(',')).join(' ') }),
    ...guides.map((g, i) => s('g', { class: `guide ${g.role}` },
      s('line', { x1: x(g.from_tip_mm), x2: x(g.from_tip_mm), y1: base, y2: y(g.role === 'tip_top' ? 3 : centre(g)) }),
      s('ellipse', { cx: x(g.from_tip_mm), cy: y(g.role === 'tip_top' ? 3 : centre(g)), rx: Math.max(2, g.ring_size * up * 0.22), ry: Math.max(3, g.ring_size * up / 2) }),
      s('text', { x: x(g.from_tip_mm), y: below ? base - 16 : base + 24, 'text-anchor': 'middle', text: g.role === 'tip_top' ? 'T' : i + 1 }))),
    ...ruler(),
  ];
  const list = guides.slice(0, -1).map(g => `${g.from_tip_mm.toFixed(0)} mm`).join(', ');
  return s('svg', { viewBox: `0 0 ${WIDTH} ${HEIGHT}`, width: WIDTH, height: HEIGHT, class: 'rod-drawing', role: 'img', 'aria-label': `A ${below ? 'spinning' : 'casting'} rod of ${length.toFixed(0)} mm with ${guides.length - 1} guides, from the tip: ${list}` }, ...parts.filter(Boolean));

  function edge(side) {
    const at = [[reel - 10, spool[1].value, spool[0].value], ...coned.map(g => [x(g.from_tip_mm), g.cone_height_mm, g.cone_mm])];
    return at.map(([px, height, wide], i) => `${i ? 'L' : 'M'}${px.toFixed(1)} ${(y(height) + side * wide * up / 2).toFixed(1)}`).join('');
  }

  function ruler() {
    const step = units === 'mm' ? 100 : 4 * 25.4, top = HEIGHT - 40, each = Math.ceil(46 / (step * scale));
    return Array.from({ length: Math.floor(length / step) + 1 }, (_, i) => i).flatMap(i => [
      s('line', { x1: x(i * step), x2: x(i * step), y1: top, y2: top + (i % each ? 5 : 8), class: 'tick' }),
      i % each === 0 && s('text', { x: x(i * step), y: top + 26, class: 'tick-text', 'text-anchor': 'middle', text: units === 'mm' ? i * 100 : i * 4 }),
    ]);
  }
}
