// A series: photos of one rod, one after another, camera and clamp where they were. What moved, what that did, what is still above the target.

import * as api from '../api.js';
import { ask, tellJson } from '../keep/archive-api.js';
import { changeTables } from './changes.js';
import { bare, pairName, withUncertainty } from '../format.js';
import { h, s, toast } from '../dom.js';
import { settings } from '../settings.js';
import { stripState, twoStrips } from './two-strips.js';

/** @param {HTMLElement} main @param {string} id @param {(address: string, how?: any) => void} go @returns {() => void} */
export function seriesPage(main, id, go) {
  document.title = 'Series · DeflectScan';
  /** @type {any} */
  let series = null, shown = new URLSearchParams(location.search).get('photo'), left = false;
  const docs = new Map();
  const top = h('section', { class: 'answer', 'aria-label': 'What changed' });
  /** @type {any} */
  let target = null;
  const against = h('div', { class: 'noticed-parts' }), goal = h('section', { class: 'noticed', 'aria-label': 'Target' }, h('h2', { text: 'Target' }), targetForm(), against);
  const course = h('section', { class: 'noticed', 'aria-label': 'Photos of the series' });
  const tables = h('section', { class: 'noticed tables', 'aria-label': 'Figures' });
  const strips = twoStrips(from => { pair = from; draw(); });
  /** @type {number|null} */
  let pair = null;
  main.className = 'wide';
  main.replaceChildren(h('div', { class: 'series-page' }, top, strips.element, h('div', { class: 'series-side' }, goal, course), tables));
  const stop = api.listen(view => { if (!series || view.stage === 'done' || view.isAside) load(); }, load);
  const resize = () => draw();
  addEventListener('resize', resize);
  load();
  return () => { left = true; stop(); removeEventListener('resize', resize); };

  async function load() {
    try {
      const found = await ask(`/api/series/${id}`);
      if (left) return;
      // A photo that has just been measured is what one wants to see.
      const grown = series && found.photos.length > series.photos.length;
      series = found;
      if (grown || !series.photos.some(p => p.id === shown)) shown = series.photos.at(-1).id;
      await draw();
    } catch (error) {
      if (!left) main.replaceChildren(h('h1', { text: error.message }), h('p', {}, h('a', { href: '/', 'data-view': true, text: 'Go to the bench' })));
    }
  }

  async function documentOf(photo) {
    const name = `${photo.id}/${photo.key}`;
    if (!docs.has(name)) docs.set(name, await api.measurement(photo.id, photo.key));
    return docs.get(name);
  }

  async function draw() {
    if (!series) return;
    const at = series.photos.findIndex(p => p.id === shown), photo = series.photos[at], before = at > 0 ? series.photos[at - 1] : null;
    const [doc, earlier] = [await documentOf(photo), before ? await documentOf(before) : null];
    if (left) return;
    const number = `Photo ${at + 1} of ${series.photos.length}`;
    top.replaceChildren(...[
      h('div', { class: 'above' }, h('a', { class: 'back', href: '/', 'data-view': true, text: '← All photos' }), h('span', { class: 'quiet name', text: number })),
      h('h1', { text: photo.step ? photo.step.headline : photo.headline ?? photo.name }),
      h('p', { class: `status ${photo.status}`, text: photo.says ?? '' }),
      photo.step && h('ul', { class: 'changes-list' }, ...photo.step.changes.map(text => h('li', { text }))),
      h('div', { class: 'steps' },
        h('button', { type: 'button', text: '← Before', disabled: at === 0, onclick: () => choose(at - 1) }),
        h('button', { type: 'button', text: 'Next →', disabled: at === series.photos.length - 1, onclick: () => choose(at + 1) }),
        h('a', { class: 'button', href: `/photo/${photo.id}`, 'data-view': true, text: 'Look at this photo' }))].filter(Boolean));
    const worst = photo.worst?.from ?? null;
    strips.draw(stripState(`${shown}/${photo.key}`, doc, { worst, pair: pair ?? worst, targetMm: series.target_mm }), earlier);
    drawTarget(photo, doc);
    drawCourse(at);
    tables.replaceChildren(...(photo.step ? changeTables(photo.step, earlier, doc) : [h('p', { class: 'quiet', text: 'The next photo from the same stand is laid on this one: leave camera, cards and clamp where they are, slide a guide, take a photo.' })]));
  }

  function choose(at) {
    shown = series.photos[at].id;
    go(`/series/${id}?photo=${shown}`, { replace: true, quiet: true });
    draw();
  }

  function targetText() { return series.target_mm === null ? '' : bare(series.target_mm, settings.units); }

  function targetForm() {
    const inch = settings.units === 'in';
    target = h('input', { id: 'target', type: 'number', inputmode: 'decimal', min: inch ? 0.02 : 0.5, max: inch ? 8 : 200, step: inch ? 0.01 : 0.1 });
    const set = async mm => {
      try { series = await tellJson(`/api/series/${id}/target`, { mm }); draw(); } catch (error) { toast(error.message); }
    };
    return h('form', { class: 'inline-form', onsubmit: event => { event.preventDefault(); set(target.value === '' ? null : Number(target.value) * (inch ? 25.4 : 1)); } },
      h('label', { for: 'target', text: `Largest bow of the running guides, ${settings.units}` }), target, h('button', { type: 'submit', text: 'Set' }));
  }

  function drawTarget(photo, doc) {
    // What is typed and not set yet outlives that a photo comes in.
    if (target.value === target.defaultValue) target.value = targetText();
    target.defaultValue = targetText();
    const above = photo.against_target?.filter(p => p.is === 'above') ?? [], open = photo.against_target?.filter(p => p.is === 'open') ?? [];
    const line = p => h('li', {}, h('strong', { text: pairName(doc, p) }), ` ${withUncertainty(p.bow_mm, p.bow_uncertainty_mm, settings.units)} ${settings.units}`);
    against.replaceChildren(...[
      series.target_mm !== null && above.length > 0 && h('div', {}, h('p', { class: 'status needs_review', text: above.length === 1 ? 'Still above it' : `${above.length} still above it` }), h('ul', { class: 'target-list' }, ...above.map(line))),
      series.target_mm !== null && open.length > 0 && h('div', {}, h('p', { class: 'quiet', text: 'At it, within the uncertainty' }), h('ul', { class: 'target-list' }, ...open.map(line))),
      series.target_mm !== null && above.length + open.length === 0 && h('p', { class: 'status ok', text: 'Every running pair is below it.' }),
    ].filter(Boolean));
  }

  function drawCourse(at) {
    course.replaceChildren(h('h2', { text: 'Largest bow of the running guides' }), courseOf(series, at),
      h('ol', { class: 'series-photos' }, ...series.photos.map((p, i) => h('li', {},
        h('button', { type: 'button', 'aria-pressed': String(i === at), 'aria-label': `Photo ${i + 1}: ${p.name}`, onclick: () => choose(i) },
          h('img', { src: `/api/photos/${p.id}/overview.jpg`, alt: '', loading: 'lazy' }), h('span', { text: String(i + 1) }))))));
  }
}

/** How the largest bow went from photo to photo, with the target as a line. */
function courseOf(series, at) {
  const width = 360, height = 150, left = 44, photos = series.photos.map((p, i) => ({ ...p, i })).filter(p => p.worst);
  if (photos.length === 0) return h('p', { class: 'quiet', text: 'No photo of it shows running guides yet.' });
  const most = 1.1 * Math.max(...photos.map(p => p.worst.bow_mm + p.worst.bow_uncertainty_mm), series.target_mm ?? 0);
  const x = i => left + (width - left - 16) * (series.photos.length === 1 ? 0.5 : i / (series.photos.length - 1)), y = mm => height - 26 - (height - 40) * mm / most;
  const text = (tx, ty, words, more = {}) => s('text', { x: tx, y: ty, text: words, ...more });
  const says = photos.map(p => `photo ${p.i + 1}: ${bare(p.worst.bow_mm, settings.units)}`).join(', ');
  return s('svg', { viewBox: `0 0 ${width} ${height}`, class: 'course', role: 'img', 'aria-label': `Largest bow by photo, ${settings.units}: ${says}` },
    s('line', { x1: left, x2: width - 8, y1: y(0), y2: y(0), class: 'tick' }),
    text(left - 6, y(0) + 5, '0', { 'text-anchor': 'end' }),
    series.target_mm !== null && s('line', { x1: left, x2: width - 8, y1: y(series.target_mm), y2: y(series.target_mm), class: 'target-line' }),
    series.target_mm !== null && text(left - 6, y(series.target_mm) + 5, bare(series.target_mm, settings.units), { 'text-anchor': 'end', class: 'target-text' }),
    s('path', { d: photos.map((p, k) => `${k ? 'L' : 'M'}${x(p.i)} ${y(p.worst.bow_mm)}`).join(''), class: 'course-line' }),
    ...photos.map(p => s('g', { class: p.i === at ? 'chosen' : '' },
      s('line', { x1: x(p.i), x2: x(p.i), y1: y(p.worst.bow_mm - p.worst.bow_uncertainty_mm), y2: y(p.worst.bow_mm + p.worst.bow_uncertainty_mm), class: 'course-line' }),
      s('circle', { cx: x(p.i), cy: y(p.worst.bow_mm), r: p.i === at ? 6 : 4, class: 'dot' }),
      (p.i === at || series.photos.length <= 6) && text(x(p.i), y(p.worst.bow_mm + p.worst.bow_uncertainty_mm) - 8, bare(p.worst.bow_mm, settings.units), { 'text-anchor': 'middle' }),
      text(x(p.i), height - 6, String(p.i + 1), { 'text-anchor': 'middle' }))));
}
