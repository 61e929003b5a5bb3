// Each reading's difference from the photo, in units of what both uncertainties allow together: inside the band they agree.

import { s } from '../dom.js';

const ROW = 30, TOP = 40, MOST = 3;

/** @param {any} proof @param {number} room  in CSS px; names are short where it is little @returns {SVGElement} */
export function picture(proof, room) {
  const WIDTH = Math.max(320, Math.min(680, room)), narrow = WIDTH < 560, LEFT = narrow ? 88 : 200;
  const scale = (WIDTH - LEFT - 30) / (2 * MOST), middle = LEFT + MOST * scale, height = TOP + ROW * proof.readings.length + 8;
  const apart = proof.readings.filter(r => r.en > 1).length;
  const label = `${proof.readings.length} readings against the photo; ${apart === 0 ? 'all lie inside the band that both uncertainties allow' : `${apart} outside the band that both uncertainties allow`}`;
  return s('svg', { class: 'proof-picture', viewBox: `0 0 ${WIDTH} ${height}`, role: 'img', 'aria-label': label },
    s('rect', { class: 'band', x: middle - scale, y: TOP, width: 2 * scale, height: height - TOP - 8 }),
    s('line', { class: 'zero', x1: middle, y1: TOP, x2: middle, y2: height - 8 }),
    s('text', { x: middle, y: 15, 'text-anchor': 'middle', text: 'by hand: agrees' }),
    s('text', { x: LEFT, y: 32, text: '← shorter' }), s('text', { x: WIDTH - 10, y: 32, 'text-anchor': 'end', text: 'longer →' }),
    ...proof.readings.flatMap((r, i) => row(r, TOP + ROW * (i + 0.5))));

  function row(r, y) {
    const off = Math.sign(r.difference_mm) * r.en, x = middle + Math.max(-MOST, Math.min(MOST, off)) * scale;
    const beyond = Math.abs(off) > MOST;
    return [
      s('text', { x: LEFT - 12, y: y + 5, 'text-anchor': 'end', text: narrow ? short(r) : r.name }),
      s('line', { class: 'from', x1: middle, y1: y, x2: x, y2: y }),
      r.en <= 1 ? s('circle', { class: 'inside', cx: x, cy: y, r: 6 })
        : beyond ? s('path', { class: 'outside', d: off > 0 ? `M${x - 7} ${y - 8}L${x + 8} ${y}L${x - 7} ${y + 8}Z` : `M${x + 7} ${y - 8}L${x - 8} ${y}L${x + 7} ${y + 8}Z` })
          : s('rect', { class: 'outside', x: x - 6, y: y - 6, width: 12, height: 12 }),
    ];
  }
}

/** "1–tip", "1–2", "gap 1–2". */
function short(r) {
  return `${r.what === 'gap' ? 'gap ' : ''}${r.from}–${r.to}`;
}
