// A rod's straightened strip at a board's one scale: the tip on the right, line and rings above the blank, bows of the running pairs below it.

import { s } from '../dom.js';

const WIDTH = 1000, WALL_WIDTH = 1700, HEIGHT = 92, RIGHT = 8, MOST = 6;
const ROUND = [0.25, 0.5, 0.75, 1, 1.25, 1.5, 2, 2.5, 3, 4, 5, 6];

/**
 * The scale that all strips of a board share, as the library's board has it.
 * @param {any} board  longestMm, tallestMm, tallestRunningMm, deepestMm
 * @param {boolean} onWall  a projector's low rows: as high, and as much wider as there is room beside them
 */
export function scaleOf(board, onWall = false) {
  const width = onWall ? WALL_WIDTH : WIDTH, perMm = (width - 2 * RIGHT) / board.longestMm, room = HEIGHT - 8;
  const times = fits => ROUND.filter(r => r <= Math.min(fits, MOST)).at(-1) ?? ROUND[0];
  const up = times(room / perMm * Math.min(0.5 / board.tallestRunningMm, 0.92 / board.tallestMm)), down = times(room * 0.5 / (board.deepestMm * perMm));
  return { width, perMm, up, down, base: HEIGHT - 4 - board.deepestMm * perMm * down, words: `Stations to one scale, from the tip on the right. Above the blank: line and rings, ${up} times as tall; below it: bows of the running pairs, ${down} times.` };
}

/** @param {any} strip @param {any} scale @param {{label: string, targetMm?: number|null, reference?: any}} more */
export function boardStrip(strip, scale, { label, targetMm = null, reference = null }) {
  const { width, perMm, up, down, base } = scale, x = mm => width - RIGHT - mm * perMm, y = mm => base - Math.max(mm, 0) * perMm * up;
  const held = strip.rings[strip.pairs.findIndex(p => p.running)];
  return s('svg', { viewBox: `0 0 ${width} ${HEIGHT}`, class: 'board-strip', role: 'img', 'aria-label': label },
    reference && s('g', { class: 'faint' }, ...reference.pairs.map(p => s('path', { d: line(p.line, x, y) })),
      ...reference.rings.map(([at, height]) => s('line', { x1: x(at), x2: x(at), y1: base, y2: y(height) }))),
    s('rect', { x: x(strip.lengthMm), y: base - 1.5, width: strip.lengthMm * perMm, height: 3, class: 'bar' }),
    ...strip.pairs.map(p => s('path', { d: line(p.line, x, y), class: `line ${p.doubt ? 'doubt' : ''}` })),
    ...strip.pairs.flatMap((p, i) => {
      if (!p.running) return [];
      const a = x(strip.rings[i][0]), b = x(strip.rings[i + 1][0]);
      return [s('path', { d: `M${a} ${base + 1.5}Q${(a + b) / 2} ${base + 1.5 + 2 * p.bowMm * perMm * down} ${b} ${base + 1.5}`, class: `bow ${i === strip.worst ? 'worst' : ''} ${p.doubt ? 'doubt' : ''}` })];
    }),
    targetMm && held && s('line', { x1: x(held[0]), x2: width - RIGHT, y1: base + 1.5 + targetMm * perMm * down, y2: base + 1.5 + targetMm * perMm * down, class: 'target' }),
    ...strip.rings.flatMap(([at, height]) => [s('line', { x1: x(at), x2: x(at), y1: base, y2: y(height), class: 'stem' }), s('circle', { cx: x(at), cy: y(height), r: 3, class: 'ring' })]));
}

/** A strip by itself, at a scale of its own. */
export function ownStrip(strip, label) {
  const heights = strip.pairs.filter(p => p.running).flatMap(p => p.line.filter((_, i) => i % 2 === 1));
  const scale = scaleOf({
    longestMm: strip.lengthMm, tallestMm: Math.max(...strip.rings.map(r => r[1]), 1), tallestRunningMm: Math.max(...heights, 1),
    deepestMm: Math.max(...strip.pairs.filter(p => p.running).map(p => p.bowMm), 2),
  });
  return boardStrip(strip, scale, { label });
}

function line(flat, x, y) {
  let d = '';
  for (let i = 0; i < flat.length; i += 2) d += `${i ? 'L' : 'M'}${x(flat[i]).toFixed(1)} ${y(flat[i + 1]).toFixed(1)}`;
  return d;
}
