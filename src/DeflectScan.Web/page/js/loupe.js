// A loupe off the finger while a ring is dragged: the photo's own pixels, the ring's mark and the line in it.

import { h, s } from './dom.js';
import { tileAddress } from './photo-view.js';

const SIDE = 168, SHOWN = 42, TILE = 512;

/** @param {string} id @param {number} width @param {number} height */
export function loupe(id, width, height) {
  const pixels = s('g'), line = s('polyline', { class: 'loupe-line' });
  const mark = s('g', { class: 'loupe-mark' }, s('circle', { r: 2.2 }), s('path', { d: 'M-9 0H-3.500M3.500 0H9M0 -9V-3.500M0 3.500V9' }));
  const svg = s('svg', { viewBox: `0 0 ${SHOWN} ${SHOWN}`, 'aria-hidden': 'true' }, pixels, line, mark);
  const element = h('div', { class: 'loupe', hidden: true }, svg);
  return { element, show, hide };

  /** @param {{x: number, y: number}} px  what is looked at @param {{x: number, y: number}[]} vertices  of the line, photo px @param {boolean} left  which side it stands on */
  function show(px, vertices, left) {
    element.hidden = false;
    element.classList.toggle('left', left);
    svg.setAttribute('viewBox', `${px.x - SHOWN / 2} ${px.y - SHOWN / 2} ${SHOWN} ${SHOWN}`);
    const wanted = [];
    for (const x of [px.x - SHOWN / 2, px.x + SHOWN / 2]) {
      for (const y of [px.y - SHOWN / 2, px.y + SHOWN / 2]) {
        const column = Math.floor(x / TILE), row = Math.floor(y / TILE);
        if (column >= 0 && row >= 0 && column * TILE < width && row * TILE < height) wanted.push(`${column}/${row}`);
      }
    }
    for (const name of new Set(wanted)) {
      if (pixels.querySelector(`[data-tile="${name}"]`)) continue;
      const [column, row] = name.split('/').map(Number);
      // A pixel's centre has whole coordinates, so that tiles begin half a pixel before.
      pixels.append(s('image', {
        href: tileAddress(id, 0, column, row), x: column * TILE - 0.5, y: row * TILE - 0.5,
        width: Math.min(TILE, width - column * TILE), height: Math.min(TILE, height - row * TILE), 'data-tile': name,
      }));
    }
    line.setAttribute('points', vertices.map(v => `${v.x},${v.y}`).join(' '));
    mark.setAttribute('transform', `translate(${px.x} ${px.y})`);
  }

  function hide() { element.hidden = true; }
}

export { SIDE };
