// The photo: panned and zoomed by mouse, fingers and keys; an overview under tiles of the photo's own pixels; marks over it in an SVG.

import { h, s } from './dom.js';

const TILE = 512, OVERVIEW = 1600, MOST = 16;

/**
 * @param {string} id
 * @param {number} width  photo px
 * @param {number} height
 * @param {{view: (view: {k: number, x: number, y: number}) => void, ground: (px: {x: number, y: number}) => void}} on
 *   `view` after every change of what is seen; `ground` when the photo itself is tapped
 */
export function photoView(id, width, height, on) {
  const overview = h('img', { src: `/api/photos/${id}/overview.jpg`, alt: '', draggable: 'false', class: 'overview' });
  const tiles = h('div', { class: 'tiles' });
  const layer = h('div', { class: 'layer' }, overview, tiles);
  const marks = s('svg', { class: 'marks', role: 'group', 'aria-label': 'Marks on the photo' });
  const frame = h('div', { class: 'photo-frame', tabindex: 0, role: 'group', 'aria-label': 'Photo: arrow keys pan, plus and minus zoom, 0 shows all' }, layer, marks);
  Object.assign(overview.style, { width: `${width}px`, height: `${height}px` });
  Object.assign(layer.style, { width: `${width}px`, height: `${height}px` });

  // A photo px p is seen at k·p + (x, y) CSS px.
  const view = { k: 1, x: 0, y: 0 };
  /** @type {Map<number, {x: number, y: number}>} */
  const fingers = new Map();
  let moved = 0, fitted = true, waiting = 0;

  new ResizeObserver(() => { if (fitted) fit(); else change(); }).observe(frame);
  frame.addEventListener('wheel', event => {
    event.preventDefault();
    zoom(Math.exp(-event.deltaY * (event.deltaMode === 1 ? 0.05 : 0.0016)), here(event));
  }, { passive: false });
  frame.addEventListener('pointerdown', event => {
    if (event.button !== 0) return;
    if (fingers.size === 0) moved = 0;
    fingers.set(event.pointerId, here(event));
    frame.setPointerCapture(event.pointerId);
  });
  frame.addEventListener('pointermove', event => {
    const was = fingers.get(event.pointerId);
    if (!was) return;
    const now = here(event), others = [...fingers].filter(([pointer]) => pointer !== event.pointerId).map(([, p]) => p);
    fingers.set(event.pointerId, now);
    moved += Math.hypot(now.x - was.x, now.y - was.y);
    if (others.length === 0) { if (moved > 4) pan(now.x - was.x, now.y - was.y); return; }
    const other = others[0], before = Math.hypot(was.x - other.x, was.y - other.y), after = Math.hypot(now.x - other.x, now.y - other.y);
    pan((now.x - was.x) / 2, (now.y - was.y) / 2);
    if (before > 0) zoom(after / before, { x: (now.x + other.x) / 2, y: (now.y + other.y) / 2 });
  });
  const up = event => {
    if (!fingers.delete(event.pointerId)) return;
    if (event.type === 'pointerup' && moved <= 4 && fingers.size === 0) on.ground(toPhoto(here(event)));
  };
  frame.addEventListener('pointerup', up);
  frame.addEventListener('pointercancel', up);
  frame.addEventListener('keydown', event => {
    if (event.target !== frame || event.ctrlKey || event.metaKey || event.altKey) return;
    const centre = { x: frame.clientWidth / 2, y: frame.clientHeight / 2 };
    const doing = {
      '+': () => zoom(1.4, centre), '=': () => zoom(1.4, centre), '-': () => zoom(1 / 1.4, centre), 0: fit,
      ArrowLeft: () => pan(60, 0), ArrowRight: () => pan(-60, 0), ArrowUp: () => pan(0, 60), ArrowDown: () => pan(0, -60),
    }[event.key];
    if (doing) { event.preventDefault(); doing(); }
  });

  return { element: frame, marks, view, fit, zoomIn, zoomOut, goTo, toPhoto, toScreen, here };

  function here(event) {
    const box = frame.getBoundingClientRect();
    return { x: event.clientX - box.left, y: event.clientY - box.top };
  }
  function toPhoto(p) { return { x: (p.x - view.x) / view.k, y: (p.y - view.y) / view.k }; }
  function toScreen(p) { return { x: view.k * p.x + view.x, y: view.k * p.y + view.y }; }

  function smallest() { return Math.min(frame.clientWidth / width, frame.clientHeight / height); }

  /** Shows the whole photo. */
  function fit() {
    if (frame.clientWidth === 0) return;
    const k = smallest();
    Object.assign(view, { k, x: (frame.clientWidth - k * width) / 2, y: (frame.clientHeight - k * height) / 2 });
    fitted = true;
    change();
  }

  function zoom(by, at) {
    const k = Math.min(Math.max(view.k * by, smallest()), MOST);
    if (k <= smallest() * 1.0001) { fit(); return; }
    Object.assign(view, { x: at.x - (at.x - view.x) * k / view.k, y: at.y - (at.y - view.y) * k / view.k, k });
    fitted = false;
    hold();
  }
  function zoomIn() { zoom(1.6, { x: frame.clientWidth / 2, y: frame.clientHeight / 2 }); }
  function zoomOut() { zoom(1 / 1.6, { x: frame.clientWidth / 2, y: frame.clientHeight / 2 }); }

  function pan(dx, dy) {
    view.x += dx; view.y += dy;
    fitted = false;
    hold();
  }

  /** Goes to a place of the photo, so near that a ring can be judged. */
  function goTo(p, k = Math.max(view.k, Math.min(1, 8 * smallest()))) {
    Object.assign(view, { k, x: frame.clientWidth / 2 - k * p.x, y: frame.clientHeight / 2 - k * p.y });
    fitted = false;
    hold();
  }

  /** The photo cannot be lost off the frame: its edges go no further than the middle. */
  function hold() {
    const keep = (at, size, room) => Math.min(Math.max(at, room / 2 - size), room / 2);
    view.x = keep(view.x, view.k * width, frame.clientWidth);
    view.y = keep(view.y, view.k * height, frame.clientHeight);
    change();
  }

  function change() {
    layer.style.transform = `translate(${view.x}px, ${view.y}px) scale(${view.k})`;
    layer.classList.toggle('pixels', view.k * devicePixelRatio > 3);
    marks.setAttribute('viewBox', `0 0 ${frame.clientWidth} ${frame.clientHeight}`);
    on.view(view);
    if (!waiting) waiting = requestAnimationFrame(() => { waiting = 0; load(); });
  }

  /** Tiles of the level that the screen can show, where the overview is too coarse. */
  function load() {
    const dense = view.k * devicePixelRatio, coarse = Math.min(1, OVERVIEW / Math.max(width, height));
    if (dense <= coarse * 1.1) return;
    const level = Math.max(0, Math.floor(Math.log2(1 / dense) + 0.25)), span = TILE * 2 ** level;
    const from = toPhoto({ x: 0, y: 0 }), to = toPhoto({ x: frame.clientWidth, y: frame.clientHeight });
    const wanted = new Set();
    for (let row = Math.max(0, Math.floor(from.y / span)); row * span < Math.min(height, to.y); row++) {
      for (let column = Math.max(0, Math.floor(from.x / span)); column * span < Math.min(width, to.x); column++) {
        const name = `${level}/${column}/${row}`;
        wanted.add(name);
        if (tiles.querySelector(`[data-tile="${name}"]`)) continue;
        const tile = h('img', { src: tileAddress(id, level, column, row), alt: '', draggable: 'false', 'data-tile': name, class: 'tile' });
        Object.assign(tile.style, {
          left: `${column * span}px`, top: `${row * span}px`, width: `${Math.min(span, width - column * span)}px`, height: `${Math.min(span, height - row * span)}px`,
        });
        tile.addEventListener('load', () => tidy());
        tiles.append(tile);
      }
    }
    load.wanted = wanted;
    tidy();
  }

  /** Takes away tiles that are no longer wanted, once those that are have come. */
  function tidy() {
    const all = /** @type {HTMLImageElement[]} */ ([...tiles.children]);
    if (all.some(t => load.wanted?.has(t.dataset.tile) && !t.complete)) return;
    for (const tile of all) if (!load.wanted?.has(tile.dataset.tile)) tile.remove();
  }
}

export function tileAddress(id, level, column, row) {
  return `/api/photos/${id}/tiles/${level}/${column}/${row}.jpg`;
}
