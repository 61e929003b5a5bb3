// A layout to begin with: a form, and a picture of the rod that moves with it. What is typed is in the address; the figures are the server's.

import { send, withUnits } from '../api.js';
import { bare, sixteenths } from '../format.js';
import { h } from '../dom.js';
import { settings } from '../settings.js';
import { rodPicture } from './rod-picture.js';

const CAUTION = 'Tape the guides on, then tie the tip off: a loaded rod can break or let go. Eye protection on, stay out of the cord’s line, load it no further than its maker’s rating and the tip no further than 90 degrees to the butt.';
const CLASSES = { spinning: [1000, 5000, 500, 2000], casting: [50, 400, 50, 200] };

/** @param {HTMLElement} main @param {(address: string, how?: {replace: boolean, quiet: boolean}) => void} go @returns {() => void} */
export function startPage(main, go) {
  document.title = 'Start · DeflectScan';
  const inches = settings.units === 'in';
  const usual = { rod: 'spinning', length: inches ? '6ft 6in' : '1980', reelAt: inches ? '12' : '300', reel: '', line: 'braid', strength: '5kg', leader: '5kg', running: 'equal', lip: '', height: '', title: '' };
  /** @type {Record<string, string>} */
  const form = { ...usual, ...Object.fromEntries([...new URLSearchParams(location.search)].filter(([name]) => name in usual)) };
  let waiting = null, gone = false, turn = 0, size = 'a4';

  const picture = h('div', { class: 'rod-picture', tabindex: 0, role: 'region', 'aria-label': 'The rod' }), problem = h('p', { class: 'problem', role: 'status' });
  const table = h('div', { class: 'scrolls', tabindex: 0, role: 'region', 'aria-label': 'The layout' }), prints = h('div', { class: 'choices' }), reasons = h('details', { class: 'fold' });
  const fields = h('form', { class: 'start-form', 'aria-label': 'Rod, reel and line', onsubmit: event => event.preventDefault() });
  main.replaceChildren(h('h1', { text: 'Start a layout' }), h('p', { class: 'quiet', text: 'Guides to tape on before the first test, from rod, reel and line. The measured bend says later where they go.' }),
    picture, h('div', { class: 'start' }, h('div', {}, fields, problem), h('div', {}, table, prints, h('p', { class: 'caution', role: 'note' }, h('strong', { text: 'Take care. ' }), CAUTION))), reasons);
  main.classList.add('broad');
  drawForm();
  ask();
  return () => { gone = true; clearTimeout(waiting); };

  function drawForm() {
    const [least, most, step, usualClass] = CLASSES[form.rod] ?? CLASSES.spinning;
    const classes = Array.from({ length: (most - least) / step + 1 }, (_, i) => String(least + i * step));
    fields.replaceChildren(
      choice('Rod', 'rod', [['spinning', 'Spinning, guides below'], ['casting', 'Casting, guides on top']]),
      text('length', 'Rod’s length', inches ? 'as 6ft 6in' : 'mm, or as 6ft 6in', { least: 1200, most: 3000, step: inches ? 25.4 : 10 }),
      text('reelAt', 'Butt end to the reel’s front', inches ? 'in' : 'mm', { least: 150, most: 600, step: inches ? 12.7 : 5 }),
      h('label', { class: 'field' }, 'Reel class', h('select', { name: 'reel', onchange: event => set('reel', event.target.value) }, ...classes.map(c => h('option', { value: c, selected: (form.reel || String(usualClass)) === c, text: c })))),
      choice('Main line', 'line', [['braid', 'braid'], ['mono', 'single filament']]),
      text('strength', 'Its strength', 'kg, or as 10lb'), text('leader', 'Leader’s strength', 'its knot must pass; 0: none'),
      choice('Running guides', 'running', [['equal', 'equally spaced'], ['bow', 'equal bow on a typical bend']]),
      form.rod === 'spinning' && h('details', { class: 'more', open: Boolean(form.lip || form.height) }, h('summary', { text: 'The spool’s own measures' }), text('lip', 'Diameter of its lip', 'left out: the class’s'), text('height', 'Its axis over the blank’s', 'left out: the class’s')),
      text('title', 'Name on the paper', 'Start layout'));
  }

  function choice(legend, name, options) {
    return h('fieldset', { class: 'row' }, h('legend', { text: legend }), ...options.map(([value, label]) =>
      h('label', { class: 'choice' }, h('input', { type: 'radio', name, value, checked: form[name] === value, onchange: () => { if (name === 'rod') form.reel = ''; set(name, value); if (name === 'rod') { drawForm(); fields.querySelector(`[value="${value}"]`)?.focus(); } } }), label)));
  }

  /** A length or strength that is typed, for lengths with a slider beside it. */
  function text(name, label, hint, slider = null) {
    const input = h('input', { type: 'text', name, id: `start-${name}`, value: form[name], autocomplete: 'off', 'aria-describedby': `hint-${name}`, oninput: event => { set(name, event.target.value); follow(); } });
    const range = slider && h('input', { type: 'range', min: slider.least, max: slider.most, step: slider.step, 'aria-label': `${label}, slider`, value: toMm(form[name]) ?? slider.least, oninput: event => {
      const mm = Number(event.target.value);
      input.value = inches ? bare(mm, 'in') : String(Math.round(mm));
      set(name, input.value);
    } });
    const follow = () => { const mm = toMm(input.value); if (range && mm !== null) range.value = String(mm); };
    return h('div', { class: 'field' }, h('label', { for: `start-${name}`, text: label }), input, range, h('span', { class: 'quiet', id: `hint-${name}`, text: hint }));
  }

  /** For the slider's thumb alone: what was typed, where it is a plain number of the page's unit or feet and inches. */
  function toMm(typed) {
    const plain = /^\s*([\d.]+)\s*(mm|in)?\s*$/.exec(typed), feet = /^\s*([\d.]+)\s*ft(?:\s*([\d.]+)\s*in)?\s*$/.exec(typed);
    if (feet) return (Number(feet[1]) * 12 + Number(feet[2] ?? 0)) * 25.4;
    return plain ? Number(plain[1]) * ((plain[2] ?? settings.units) === 'in' ? 25.4 : 1) : null;
  }

  function set(name, value) {
    form[name] = value;
    clearTimeout(waiting);
    waiting = setTimeout(ask, 30);
  }

  function query() { return new URLSearchParams(Object.entries(form).filter(([name, value]) => value !== '' && (value !== usual[name] || name === 'length' || name === 'reelAt'))); }

  async function ask() {
    const mine = ++turn, asked = query();
    go(`/start?${asked}`, { replace: true, quiet: true });
    try {
      const answer = await send(`/api/start/plan?${asked}`, {});
      if (gone || mine !== turn) return;
      problem.textContent = '';
      draw(answer, asked);
    } catch (error) {
      if (!gone && mine === turn) { problem.textContent = error.message; prints.replaceChildren(); }
    }
  }

  function draw({ report, reasons: why }, asked) {
    const { units } = settings, whole = mm => inches ? sixteenths(mm).replace(/ in$/, '') : mm.toFixed(0), role = { reduction: 'reduction', running: 'running', tip_top: 'tip-top' };
    picture.replaceChildren(rodPicture(report, units, picture.clientWidth - 18), h('p', { class: 'quiet', text: `Stations true, in ${units} from the tip; heights and rings drawn larger${form.rod === 'spinning' ? '; dashed: the cone of coils off the spool' : ''}` }));
    table.replaceChildren(h('table', { class: 'figures' }, h('caption', { text: `${report.guides.length - 1} guides and the tip-top, in ${units}` }),
      h('thead', {}, h('tr', {}, ...['Guide', 'Kind', 'Ring', 'From reel', 'From tip'].map(t => h('th', { scope: 'col', text: t })))),
      h('tbody', {}, ...report.guides.map((g, i) => h('tr', {}, h('th', { scope: 'row', text: g.role === 'tip_top' ? 'Tip' : String(i + 1) }), h('td', { text: role[g.role] }), h('td', { text: Number(g.ring_size.toFixed(1)) }),
        h('td', { text: whole(g.from_reel_mm) }), h('td', { text: whole(g.from_tip_mm) }))))));
    reasons.replaceChildren(h('summary', { text: 'What each value rests on' }), h('dl', { class: 'reasons' }, ...why.flatMap(r => [h('dt', { text: r.of }), h('dd', { text: r.why })])));
    const paper = (what, text) => h('a', { class: 'button', target: '_blank', rel: 'noopener', href: withUnits(`/api/start/${what}.pdf?${asked}&paper=${size}`), text });
    prints.replaceChildren(h('fieldset', { class: 'row' }, h('legend', { class: 'visually-hidden', text: 'Paper' }), ...[['a4', 'A4'], ['letter', 'Letter']].map(([value, label]) =>
      h('label', { class: 'choice' }, h('input', { type: 'radio', name: 'paper', value, checked: size === value, onchange: () => { size = value; draw({ report, reasons: why }, asked); prints.querySelector(`[value="${value}"]`)?.focus(); } }), label))),
    paper('sheet', 'Print the sheet'), paper('tape', 'Print the tape'));
  }
}
