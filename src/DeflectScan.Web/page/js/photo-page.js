// One photo: the answer, the strip, the photo, what was noticed, the tables; all of one state, and a pair lights in all of them.

import * as api from './api.js';
import { h, pace, toast } from './dom.js';
import { Blank, measure, ringsOf } from './geometry/interval.js';
import { PlaneMap } from './geometry/plane.js';
import { photoView } from './photo-view.js';
import { overlay } from './overlay.js';
import { strip } from './strip.js';
import { table } from './table.js';
import { findings, pinsOf } from './findings.js';
import { moves } from './moves.js';
import { loupe } from './loupe.js';
import { corrections } from './correct.js';
import { SEEN } from './seen.js';
import { settings } from './settings.js';
import { since } from './follow/since.js';

const STAGES = ['Opening the photo', 'Finding the scale cards', 'Tracing the blank', 'Following the line through the rings', 'Looking for the cord', 'Working out the gaps'];

/** @param {HTMLElement} main @param {string} id @param {(address: string, how?: {replace: boolean, quiet: boolean}) => void} go @returns {() => void} */
export function photoPage(main, id, go) {
  /** @type {any} */
  const state = { id, view: null, doc: null, units: settings.units, pair: null, guide: null, live: new Set(), placed: [], pins: [], worst: null };
  /** @type {any} */
  let shown = null, pin = null, key = null, nudged = null, busyDrag = false, dragged = null, frame = 0;
  const on = { pair: choosePair, ring: chooseRing, pin: goToPin, drag, nudge };

  const answer = h('div', { class: 'headline' });
  const stripPlace = h('div', { class: 'strip', tabindex: 0, role: 'region', 'aria-label': 'Straightened strip' });
  const stripNote = h('p', { class: 'quiet strip-note' });
  const photoPlace = h('div', { class: 'photo-place' });
  const sincePlace = h('section', { class: 'noticed since', 'aria-label': 'Series and build' });
  const noticed = h('section', { class: 'noticed', 'aria-label': 'What was noticed' });
  const movesPlace = h('section', { class: 'noticed moves-section', 'aria-label': 'Moves' });
  const tables = h('div', { class: 'tables' });
  const folded = h('details', { class: 'fold' }, h('summary', { text: 'All figures' }), tables);
  const fix = corrections(id, update);
  const page = h('div', { class: 'photo-page' }, h('section', { class: 'answer', 'aria-label': 'Answer' }, answer),
    h('section', { class: 'strip-section', 'aria-label': 'Strip' }, stripPlace, stripNote), photoPlace, h('div', { class: 'side' }, sincePlace, noticed, movesPlace, folded));
  main.className = 'wide';
  main.replaceChildren(page);
  const wide = matchMedia('(min-width: 60rem)');
  const unfold = () => { folded.open = wide.matches || folded.open; };
  wide.addEventListener('change', unfold);
  unfold();

  const theStrip = strip(stripPlace, { ...on, isFree: true, slide, step }), theTable = table(tables, on), theMoves = moves(movesPlace), theFindings = findings(noticed, goToPin), theSince = since(sincePlace, id, update);
  const stop = api.listen(update, load);
  const keys = event => {
    if (event.key === 'Escape') { pin = null; state.guide = null; fix.stopAdding(); draw(); }
    if ((event.ctrlKey || event.metaKey) && event.key.toLowerCase() === 'z') { event.preventDefault(); fix.step(event.shiftKey ? 'redo' : 'undo'); }
    if ((event.ctrlKey || event.metaKey) && event.key.toLowerCase() === 'y') { event.preventDefault(); fix.step('redo'); }
  };
  const resize = () => { if (state.doc) theStrip.draw(state); };
  document.addEventListener('keydown', keys);
  addEventListener('resize', resize);
  load();
  return () => {
    stop();
    document.removeEventListener('keydown', keys);
    removeEventListener('resize', resize);
    wide.removeEventListener('change', unfold);
  };

  async function load() {
    try { await update(await api.photo(id)); } catch (error) {
      main.replaceChildren(h('h1', { text: error.message }), h('p', {}, h('a', { href: '/', 'data-view': true, text: 'Go to the bench' })));
    }
  }

  async function update(view) {
    if (view.id !== id || (state.view && view.version < state.view.version)) return;
    state.view = view;
    document.title = `${view.headline?.status ?? view.doing ?? ''} · ${view.name} · DeflectScan`;
    drawAnswer();
    theSince.draw(view);
    if (view.key && view.key !== key) {
      try {
        const wanted = view.key;
        const doc = await api.measurement(id, wanted);
        const map = doc.blank ? await api.planeMap(id, wanted) : null;
        if (state.view.key !== wanted) return;
        key = wanted;
        take(doc, map);
      } catch (error) { toast(error.message); }
    }
    if (state.doc) { follow(); draw(); }
  }

  /** Takes in a measurement: the blank's curve, the map from px to mm. */
  function take(doc, map) {
    state.live.clear();
    if (!doc.blank || doc.guides.length === 0) { withoutFigures(doc); return; }
    Object.assign(state, { doc, blank: new Blank(doc), map: new PlaneMap(map) });
    state.rings = ringsOf(state.blank, doc);
    state.ringsPx = doc.guides.map(g => ({ x: g.ring_px[0], y: g.ring_px[1] }));
    state.axisPx = doc.blank.axis.map(a => ({ x: a.x_px, y: a.y_px }));
    state.figures = doc.intervals.map(i => ({ gap: i.gap_mm, gapAt: i.gap_at_mm, bow: i.bow_mm, bowAt: i.bow_at_mm, clearance: i.clearance_mm }));
    if (!shown) {
      shown = photoView(id, doc.photo.width_px, doc.photo.height_px, { view: () => marks.place(), ground });
      const marks = overlay(shown.marks, shown, on);
      const glass = loupe(id, doc.photo.width_px, doc.photo.height_px);
      Object.assign(shown, { overlay: marks, glass });
      const zoomers = h('div', { class: 'zoomers' },
        ...[['+', 'Zoom in', shown.zoomIn], ['−', 'Zoom out', shown.zoomOut], ['All', 'Show all of the photo', shown.fit]].map(([text, label, run]) =>
          h('button', { type: 'button', text, 'aria-label': label, onclick: () => run() })));
      shown.element.style.setProperty('--shape', String(doc.photo.width_px / doc.photo.height_px));
      photoPlace.replaceChildren(shown.element, glass.element, zoomers, fix.bar);
      shown.fit();
    }
    const asked = Number(new URLSearchParams(location.search).get('pair'));
    if (!state.pair) state.pair = doc.intervals.some(i => i.from === asked) ? asked : state.view.headline?.from ?? null;
    if (!doc.intervals.some(i => i.from === state.pair)) state.pair = state.view.headline?.from ?? null;
    if (state.guide > doc.guides.length) state.guide = null;
  }

  /** A photo without figures: it is shown with its reason alone. */
  function withoutFigures(doc) {
    state.doc = null;
    for (const place of [stripPlace, stripNote, tables, movesPlace]) place.replaceChildren();
    folded.hidden = true;
    page.classList.add('unmeasured');
    shown = null;
    photoPlace.replaceChildren(doc.photo ? h('img', { class: 'plain', src: `/api/photos/${id}/overview.jpg`, alt: `The photo ${state.view.name}` }) : '');
    theFindings.draw(state.view, null);
  }

  function follow() {
    state.placed = state.view.placed;
    state.pins = pinsOf(state.view);
    state.worst = state.view.headline?.from ?? null;
    if (pin) pin = state.pins.find(p => Math.abs(p.stationMm - pin.stationMm) < 1) ?? null;
    folded.hidden = false;
    page.classList.remove('unmeasured');
  }

  function draw() {
    if (!state.doc) return;
    const taller = theStrip.draw(state);
    stripNote.textContent = `Drag a ring, here or on the photo. Heights ${Number(taller.toFixed(1))} × · above: gap, below: bow, ${settings.units === 'mm' ? 'mm' : 'in'} · stations from the tip`;
    theTable.draw(state);
    shown.overlay.draw(state);
    theFindings.draw(state.view, pin?.number);
    theMoves.draw(state);
    fix.draw(state, pin);
    shown.element.classList.toggle('adding', fix.isAdding());
  }

  function drawAnswer() {
    const { view } = state, busy = view.stage === 'waiting' || view.stage === 'measuring';
    const again = view.stage === 'cancelled' || view.stage === 'failed';
    const check = view.check && !view.key ? view.check : null;
    answer.replaceChildren(...[
      h('div', { class: 'above' }, h('a', { class: 'back', href: '/', 'data-view': true, text: '← All photos' }), h('span', { class: 'quiet name', text: view.name })),
      h('p', { class: `status ${busy ? 'busy' : view.status ?? ''}`, role: 'status' },
        busy ? view.doing : view.headline?.status ?? (view.stage === 'cancelled' ? 'Cancelled' : 'Not measured')),
      busy && h('progress', { max: STAGES.length, value: Math.max(0, STAGES.indexOf(view.doing)), 'aria-label': 'Stage of the measurement' }),
      h('h1', { text: view.headline?.answer ?? (again ? view.doing || 'The measurement was cancelled.' : view.name) }),
      check && h('div', { class: `check ${check.verdict}` },
        h('p', { text: check.toDo.length === 0 ? SEEN[check.reach] : 'While the rod is still tied:' }),
        h('ul', {}, ...check.toDo.map(t => h('li', {}, t.seen, ' ', h('strong', { text: t.do }))))),
      !busy && view.key && view.headline && view.status !== 'refused' && h('a', { class: 'button', href: `/photo/${id}/try?of=${view.key}`, 'data-view': true, text: 'Try other layouts' }),
      !busy && view.key && view.headline && view.status !== 'refused' && h('a', { class: 'button', href: `/photo/${id}/proof?of=${view.key}`, 'data-view': true, text: 'Prove by hand' }),
      busy && h('button', { type: 'button', text: 'Cancel', onclick: () => tell('cancel') }),
      again && h('button', { type: 'button', text: 'Measure it', onclick: () => tell('measure') }),
    ].filter(Boolean));
  }

  async function tell(what) {
    try { update(await api.tell(id, what)); } catch (error) { toast(error.message); }
  }

  function choosePair(from) {
    state.pair = from;
    go(`/photo/${id}?pair=${from}`, { replace: true, quiet: true });
    draw();
  }

  function chooseRing(index) {
    state.guide = state.guide === index ? null : index;
    pin = null;
    draw();
  }

  function goToPin(p) {
    pin = p;
    state.guide = p.guide;
    shown.goTo({ x: p.x, y: p.y });
    shown.element.scrollIntoView({ block: 'nearest' });
    draw();
  }

  function ground(px) {
    if (fix.isAdding()) { fix.send({ do: 'add', x: px.x, y: px.y }); return; }
    state.guide = null;
    pin = null;
    draw();
  }

  /** Puts a ring at a place of the photo and works its pairs out anew, within a frame. @returns {number[]} the pairs, from 0 */
  function setRing(index, px) {
    const i = index - 1;
    state.ringsPx[i] = px;
    state.rings[i] = state.blank.seen(state.map.toMm(px));
    const pairs = [i - 1, i].filter(k => k >= 0 && k < state.figures.length);
    for (const k of pairs) {
      state.figures[k] = measure(state.blank, state.rings[k], state.rings[k + 1]);
      state.live.add(k);
    }
    return pairs;
  }

  function drag(index, px, done, since) {
    if (state.view.stage !== 'done') return;
    if (px === null) { restore(); return; }
    state.guide = index;
    dragged = { index, px, since: dragged?.since ?? since };
    if (done) { cancelAnimationFrame(frame); frame = 0; drawDragged(); shown.glass.hide(); place(index, px); return; }
    // A mouse may tell a hundred places a frame: the newest one is drawn.
    if (!frame) frame = requestAnimationFrame(() => { frame = 0; drawDragged(); });
  }

  function drawDragged() {
    const { index, px } = dragged, pairs = setRing(index, px);
    for (const part of [theStrip, theTable, shown.overlay]) part.follow(index - 1, pairs);
    shown.glass.show(px, state.ringsPx, shown.toScreen(px).x > shown.element.clientWidth / 2);
    pace('drag', dragged.since);
    dragged = null;
  }

  async function place(index, px) {
    if (!await fix.send({ do: 'move', guide: index, x: px.x, y: px.y })) restore();
  }

  async function restore() {
    shown.glass.hide();
    if (!key) return;
    take(await api.measurement(id, key), await api.planeMap(id, key));
    draw();
  }

  /** A ring dragged in the strip goes where the photo shows that station and that height. */
  function slide(index, stationMm, done, since, heightMm) {
    drag(index, Number.isNaN(stationMm) ? null : pxAt(index, stationMm, heightMm), done, since);
  }

  /** Where the photo shows a ring that stands at a station, so far off the blank's axis on the guides' side. */
  function pxAt(index, stationMm, heightMm) {
    const { blank, map, doc, ringsPx } = state;
    return map.toPx(blank.ringAt(Math.min(Math.max(stationMm, 0), blank.lengthMm), Math.max(heightMm, 0), doc.side).mm, ringsPx[index - 1]);
  }

  /** Arrow keys in the strip: along the blank and off it. */
  function step(index, towardsTip, up, event) {
    const by = event.shiftKey ? 1 : 0.1, ring = state.rings[index - 1];
    nudgeTo(index, pxAt(index, ring.s - towardsTip * by, Math.abs(ring.height) + up * by));
  }

  /** Arrow keys on the photo: so many mm on the rod plane as the photo shows it. */
  function nudge(index, dxMm, dyMm) {
    const px = state.ringsPx[index - 1], mm = state.map.toMm(px);
    nudgeTo(index, state.map.toPx({ x: mm.x + dxMm, y: mm.y + dyMm }, px));
  }

  /** Sent when the keys rest. */
  function nudgeTo(index, px) {
    if (state.view.stage !== 'done' || busyDrag) return;
    setRing(index, px);
    state.guide = index;
    draw();
    clearTimeout(nudged);
    nudged = setTimeout(async () => { busyDrag = true; await place(index, state.ringsPx[index - 1]); busyDrag = false; }, 700);
  }
}
