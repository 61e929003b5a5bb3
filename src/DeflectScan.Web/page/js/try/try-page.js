// Other layouts on a measured photo: guides dragged along the blank in strip and photo, figures at once, confirmed by the server. The address holds all of it.

import * as api from '../api.js';
import * as desk from './desk-api.js';
import { h, pace, toast } from '../dom.js';
import { bare } from '../format.js';
import { Blank, ringsOf } from '../geometry/interval.js';
import { overlay } from '../overlay.js';
import { photoView } from '../photo-view.js';
import { PlaneMap } from '../geometry/plane.js';
import { settings } from '../settings.js';
import { heightsOf, strip } from '../strip.js';
import { table } from '../table.js';
import { compare } from './compare.js';
import { finish } from './finish.js';
import { loads } from './loads.js';
import { spacing } from './spacing.js';
import { summary, worstText } from './words.js';
import { baseOf, confirm, pairFigures, pxOf, readLayout, suggested, trialState, within, without, withStation, writeLayout } from './trial.js';

/** @param {HTMLElement} main @param {string} id @param {(address: string, how?: {replace: boolean, quiet: boolean}) => void} go @returns {() => void} */
export function tryPage(main, id, go) {
  const asked = new URLSearchParams(location.search);
  /** Layouts by slot; an empty one is the layout as measured. B is there once something was copied to it. */
  const slots = { a: asked.get('a') ?? '', b: asked.get('b') };
  let shown = asked.get('show') === 'b' && slots.b !== null ? 'b' : 'a', key = asked.get('of') ?? '', gone = false;
  /** @type {any} */
  let base = null, state = null, other = null, photo = null, marks = null, dragging = null, frame = 0, guide = null, pair = null, adding = false, waiting = null, about = null;
  const undone = [], done = [], answers = new Map();

  const headline = h('div', { class: 'headline' });
  const stripPlace = h('div', { class: 'strip', tabindex: 0, role: 'region', 'aria-label': 'Straightened strip of the tried layout' });
  const otherPlace = h('div', { class: 'strip other-strip', tabindex: 0, role: 'region', 'aria-label': 'Straightened strip of the other layout' });
  const stripNote = h('p', { class: 'quiet strip-note' }), otherNote = h('p', { class: 'strip-note' });
  const bar = h('div', { class: 'actions', role: 'toolbar', 'aria-label': 'Guides' });
  const photoPlace = h('div', { class: 'photo-place' }), sections = ['layouts', 'spacing', 'moves', 'loads', 'notes'].map(name => h('section', { class: `noticed try-${name}` }));
  const [layoutsPlace, spacingPlace, movesPlace, loadsPlace, notesPlace] = sections;
  const tables = h('div', { class: 'tables' }), folded = h('details', { class: 'fold' }, h('summary', { text: 'All figures' }), tables);
  main.className = 'wide';
  main.replaceChildren(h('div', { class: 'photo-page try-page' }, h('section', { class: 'answer', 'aria-label': 'Answer' }, headline),
    h('section', { class: 'strip-section', 'aria-label': 'Strips' }, stripPlace, stripNote, bar, otherPlace, otherNote), photoPlace, h('div', { class: 'side' }, ...sections, folded)));

  const on = { pair: from => { pair = pair === from ? null : from; draw(); }, ring: choose, slide, step, drag, nudge, pin: () => {} };
  const theStrip = strip(stripPlace, on), otherStrip = strip(otherPlace, { pair: () => {}, ring: () => {} }), theTable = table(tables, on);
  const theLayouts = compare(layoutsPlace, { show, copy, change }), theSpacing = spacing(spacingPlace, { take: change }), theLoads = loads(loadsPlace, { take: change }), theEnd = finish(movesPlace, id);
  const wide = matchMedia('(min-width: 60rem)'), unfold = () => { folded.open = wide.matches || folded.open; };
  wide.addEventListener('change', unfold);
  unfold();
  const resize = () => { if (state) drawStrips(); };
  const keys = event => {
    if (event.key === 'Escape') { guide = null; adding = false; draw(); }
    if ((event.ctrlKey || event.metaKey) && event.key.toLowerCase() === 'z') { event.preventDefault(); back(event.shiftKey ? undone : done, event.shiftKey ? done : undone); }
  };
  document.addEventListener('keydown', keys);
  addEventListener('resize', resize);
  load();
  return () => { gone = true; clearTimeout(waiting); document.removeEventListener('keydown', keys); removeEventListener('resize', resize); wide.removeEventListener('change', unfold); };

  async function load() {
    try {
      const view = await api.photo(id);
      key ||= view.key;
      if (!key) throw new Error('This photo has no figures to try a layout on.');
      const doc = await api.measurement(id, key);
      if (!doc.blank || doc.guides.length === 0) throw new Error('This photo has no figures to try a layout on.');
      const map = new PlaneMap(await api.planeMap(id, key)), blank = new Blank(doc);
      if (gone) return;
      base = { ...baseOf(doc, blank, map, ringsOf(blank, doc)), name: view.name, isOld: view.key !== key };
      document.title = `Try a layout · ${view.name} · DeflectScan`;
      openPhoto();
      rebuild();
      theSpacing.open(id, key, base);
      theEnd.open(base, key);
    } catch (error) {
      main.replaceChildren(h('h1', { text: error.message }), h('p', {}, h('a', { href: `/photo/${id}`, 'data-view': true, text: 'Go to the photo' })));
    }
  }

  function openPhoto() {
    const { photo: size } = base.doc;
    photo = photoView(id, size.width_px, size.height_px, { view: () => marks?.place(), ground });
    marks = overlay(photo.marks, photo, on);
    const zoomers = h('div', { class: 'zoomers' }, ...[['+', 'Zoom in', photo.zoomIn], ['−', 'Zoom out', photo.zoomOut], ['All', 'Show all of the photo', photo.fit]].map(([text, label, run]) =>
      h('button', { type: 'button', text, 'aria-label': label, onclick: () => run() })));
    photo.element.style.setProperty('--shape', String(size.width_px / size.height_px));
    photoPlace.replaceChildren(photo.element, zoomers);
    photo.fit();
  }

  /** Draws the layout of the shown slot, then asks the server to confirm it. */
  function rebuild() {
    state = stateOf(slots[shown]);
    other = slots.b === null ? null : stateOf(slots[shown === 'a' ? 'b' : 'a']);
    if (guide > state.doc.guides.length) guide = null;
    const address = new URLSearchParams({ of: key, ...(slots.a && { a: slots.a }), ...(slots.b !== null && { b: slots.b, show: shown }) });
    go(`/photo/${id}/try?${address}`, { replace: true, quiet: true });
    settle(state, slots[shown]);
    if (other) settle(other, slots[shown === 'a' ? 'b' : 'a']);
    clearTimeout(waiting);
    waiting = setTimeout(() => { for (const text of new Set([slots[shown], '', slots.a, slots.b ?? ''])) ask(text); }, 40);
    draw();
  }

  function stateOf(text) {
    return { ...trialState(base, readLayout(text)), id, units: settings.units };
  }

  /** Takes in the server's figures where it has given them. */
  function settle(of, text) {
    const answer = answers.get(text);
    if (!answer || of.answer) return;
    of.answer = answer;
    confirm(of, answer.report);
  }

  async function ask(text) {
    if (answers.has(text)) return;
    try {
      answers.set(text, await desk.whatIf(id, key, text));
    } catch (error) {
      if (text === slots[shown]) { state.problem = error.message; draw(); }
      return;
    }
    if (gone || dragging) return;
    settle(state, slots[shown]);
    if (other) settle(other, slots[shown === 'a' ? 'b' : 'a']);
    draw();
  }

  /** Another layout in the shown slot. */
  function change(text) {
    const tidy = writeLayout(readLayout(text));
    if (tidy === slots[shown]) { rebuild(); return; }
    done.push({ slot: shown, text: slots[shown] });
    undone.length = 0;
    slots[shown] = tidy;
    rebuild();
  }

  function back(from, to) {
    const step = from.pop();
    if (!step) return;
    to.push({ slot: step.slot, text: slots[step.slot] });
    shown = step.slot;
    slots[shown] = step.text;
    rebuild();
  }

  function show(slot) { shown = slot; guide = null; rebuild(); }

  function copy() { slots.b = slots.a; shown = 'b'; guide = null; rebuild(); }

  function choose(index) { guide = guide === index ? null : index; draw(); }

  function snapped(mm) { return settings.units === 'mm' ? Math.round(mm * 10) / 10 : Math.round(mm / 25.4 * 16) * 25.4 / 16; }

  /** Slides a guide along the blank: two pairs are worked out anew in the frame; when it is let go the layout is the address's. */
  function slide(index, mm, end, since = performance.now()) {
    const i = index - 1, part = state.parts[i];
    if (Number.isNaN(mm)) { dragging = null; rebuild(); return; }
    dragging = { i, part, mm: within(state, i, snapped(mm)), since: dragging?.since ?? since };
    if (end) { cancelAnimationFrame(frame); frame = 0; const text = writeLayout(withStation(readLayout(slots[shown]), part, dragging.mm, part.was && base.rings[part.was - 1].s)); dragging = null; guide = index; change(text); return; }
    if (!frame) frame = requestAnimationFrame(() => { frame = 0; if (dragging) follow(); });
  }

  function follow() {
    const { i, part, mm, since } = dragging;
    const ring = base.blank.ringAt(mm, Math.abs(part.ring.height), base.doc.side);
    state.parts[i] = { ...part, ring, stays: false };
    state.rings[i] = ring;
    state.ringsPx[i] = pxOf(base, state.parts[i], state.ringsPx[i]);
    const pairs = [i - 1, i].filter(k => k >= 0 && k < state.figures.length);
    for (const k of pairs) { state.figures[k] = pairFigures(base, state.parts[k], state.parts[k + 1]); state.live.add(k); }
    for (const drawn of [theStrip, theTable, marks]) drawn.follow(i, pairs);
    stripNote.textContent = `Guide ${i + 1}: ${bare(mm, settings.units)} ${settings.units} from the tip`;
    pace('slide', since);
    dragging.since = null;
  }

  /** On the photo a ring goes to the station that the pointer is nearest to. */
  function drag(index, px, end, since) {
    if (index === state.doc.guides.length) { if (end) toast('The tip-top stays where it is.'); return; }
    slide(index, px ? base.blank.curve.nearest(base.map.toMm(px)).s : NaN, end, since);
  }

  function step(index, towardsTip, _, event) {
    const by = (event.shiftKey ? 10 : 1) * (settings.units === 'mm' ? 1 : 25.4 / 16);
    slide(index, state.rings[index - 1].s - towardsTip * by, true);
  }

  function nudge(index, dx, dy) {
    const sign = dx || dy;
    if (index < state.doc.guides.length) step(index, Math.sign(sign), 0, { shiftKey: Math.abs(sign) > 0.5 });
  }

  function ground(px) {
    if (!adding) { guide = null; draw(); return; }
    addAt(base.blank.curve.nearest(base.map.toMm(px)).s);
  }

  function addAt(mm) {
    adding = false;
    change(`${slots[shown]},a${snapped(mm)}`);
    guide = null;
  }

  function drawStrips() {
    const heights = [base.doc, state.doc, ...(other ? [other.doc] : [])].map(heightsOf);
    const same = { tallest: Math.max(...heights.map(x => x.tallest)), bow: Math.max(...heights.map(x => x.bow)) };
    about ??= state.worst;
    const taller = theStrip.draw(Object.assign(state, { heights: same, guide, pair, about }));
    stripNote.textContent = `${other ? `Layout ${shown.toUpperCase()}. ` : ''}Drag a guide along the blank. Heights ${Number(taller.toFixed(1))} × · above: gap, below: bow, ${settings.units} · ▴ where a guide was`;
    otherPlace.hidden = otherNote.hidden = !other;
    if (other) { otherStrip.draw(Object.assign(other, { heights: same, guide: null, pair, about })); otherNote.textContent = `Layout ${shown === 'a' ? 'B' : 'A'}, to the same scale`; }
  }

  function draw() {
    if (!state || dragging) return;
    drawStrips();
    marks.draw(state);
    photo.element.classList.toggle('adding', adding);
    theTable.draw(state);
    const now = answers.get(''), then = state.answer;
    headline.replaceChildren(...[
      h('div', { class: 'above' }, h('a', { class: 'back', href: `/photo/${id}`, 'data-view': true, text: '← The photo' }), h('span', { class: 'quiet name', text: base.name })),
      h('p', { class: `status ${state.problem ? 'refused' : ''}`, role: 'status', text: state.problem ?? summary(readLayout(slots[shown]), base) }),
      h('h1', { text: then ? worstText(then.report.after, base.doc, settings.units) : 'Working it out…' }),
      then && now && slots[shown] && h('p', { class: 'quiet', text: `As measured: ${worstText(now.report.before, base.doc, settings.units)}` }),
      base.isOld && h('p', { class: 'quiet' }, 'This is of an earlier reading of the photo. ', h('a', { href: `/photo/${id}/try`, 'data-view': true, text: 'Try on the present one' })),
    ].filter(Boolean));
    drawBar();
    theLayouts.draw({ slots, shown, now, answers, base, suggestion: suggested(base.doc) });
    theSpacing.draw(state.doc.guides.length - 1);
    theLoads.draw(id, key, slots[shown], base);
    theEnd.draw({ layout: slots[shown], slot: other ? shown.toUpperCase() : '', answer: then });
    notesPlace.replaceChildren(...(then ? [h('h2', { text: 'What to know' }), h('ul', { class: 'findings' }, ...then.notes.map(n => h('li', { text: n })))] : []));
  }

  function drawBar() {
    const part = guide ? state.parts[guide - 1] : null, tip = guide === state.doc.guides.length, button = (text, run, more = {}) => h('button', { type: 'button', text, onclick: run, ...more });
    const by = settings.units === 'mm' ? '1 mm' : '1/16 in';
    bar.replaceChildren(h('span', { class: 'actions-main' }, ...(part && !tip ? [
      h('span', { class: 'asks', text: `Guide ${guide}` }),
      button('←', () => step(guide, -1, 0, {}), { 'aria-label': `Guide ${guide} ${by} towards the reel` }), button('→', () => step(guide, 1, 0, {}), { 'aria-label': `Guide ${guide} ${by} towards the tip` }),
      button('Take it off', () => { const which = part; guide = null; change(writeLayout(without(readLayout(slots[shown]), which))); }),
      part.was && !part.stays && button('Back to its place', () => change(writeLayout(withStation(readLayout(slots[shown]), part, base.rings[part.was - 1].s, base.rings[part.was - 1].s)))),
    ] : [
      button('Add a guide', () => addAt(widest()), { title: 'In the middle of the pair that follows worst, or of the chosen pair' }),
      button(adding ? 'Tap the photo' : 'Add on the photo', () => { adding = !adding; draw(); }, { 'aria-pressed': String(adding) }),
    ]).filter(Boolean)), h('span', { class: 'actions-undo' },
      button('Undo', () => back(done, undone), { disabled: done.length === 0 }), button('Redo', () => back(undone, done), { disabled: undone.length === 0 })));
  }

  /** Where one more guide goes at first: the middle of the chosen pair, else of the one that follows worst. */
  function widest() {
    const from = pair ?? state.worst ?? 1, i = Math.min(from, state.rings.length - 1);
    return (state.rings[i - 1].s + state.rings[i].s) / 2;
  }
}
