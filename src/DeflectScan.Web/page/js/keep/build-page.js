// One build: facts, guides, tests, before and after, layouts, notes and test casts, reports. Forms are made once: what is typed in one outlives that the
// rest is drawn anew, for what was said here or by another browser.

import { listen } from '../api.js';
import { ask, tellJson } from './archive-api.js';
import { factsForm, factsList } from './build-facts.js';
import { bare, sixteenths, withUncertainty } from '../format.js';
import { h, s, toast } from '../dom.js';
import { proofs } from './proofs.js';
import { scroller } from '../follow/changes.js';
import { settings } from '../settings.js';

const KINDS = [['note', 'Note'], ['test-cast', 'Test cast'], ['remark', 'Remark']];

/** @param {HTMLElement} main @param {string} id @param {(address: string, how?: any) => void} go @returns {() => void} */
export function buildPage(main, id, go) {
  /** @type {any} */
  let build = null, left = false;
  /** The form in which facts are said anew, while it is open. @type {HTMLElement|null} */
  let saying = null;
  /** Forms that are open at a test, by its id. @type {Map<string, HTMLElement>} */
  const asking = new Map();
  const places = { head: h('section', { class: 'wide', 'aria-label': 'Build' }), facts: h('section', { 'aria-label': 'Facts' }), tests: h('section', { 'aria-label': 'Tests' }),
    proofs: h('section', { 'aria-label': 'Proofs by hand', hidden: true }) };
  const lists = { layouts: h('ul', { class: 'layouts' }), notes: h('ul', { class: 'notes' }) };
  const page = h('div', { class: 'build-page' }, places.head, places.facts, places.tests, places.proofs, layouts(), notes(), reports());
  const stop = listen(() => {}, load, { archive: load });
  load();
  return () => { left = true; stop(); };

  async function load() {
    try {
      const found = await ask(`/api/builds/${id}`);
      if (JSON.stringify(found) !== JSON.stringify(build)) take(found);
    } catch (error) {
      if (left) return;
      // What is typed stays where it is; the server may come back.
      if (build) toast(error.message);
      else main.replaceChildren(h('h1', { text: error.message }), h('p', {}, h('a', { href: '/builds', 'data-view': true, text: 'Go to the builds' })));
    }
  }

  function take(found) {
    if (left) return;
    build = found;
    document.title = `${build.build.name} · DeflectScan`;
    if (!page.isConnected) { main.className = 'wide'; main.replaceChildren(page); }
    draw();
  }

  function draw() {
    const last = build.history.at(-1)?.follows_worst, focused = /** @type {HTMLElement|null} */ (document.activeElement);
    places.head.replaceChildren(...[h('div', { class: 'above' }, h('a', { class: 'back', href: '/builds', 'data-view': true, text: '← All builds' })),
      h('h1', { text: build.build.name }),
      last && h('p', { text: `Latest test: ${last.from} to ${last.to_tip ? 'tip-top' : last.to} follows worst, ${last.by} ${withUncertainty(last.mm, last.uncertainty_mm, settings.units)} ${settings.units}.` })].filter(Boolean));
    if (!saying?.isConnected) places.facts.replaceChildren(h('h2', { text: 'The rod' }), ...(saying ? [saying] : facts()));
    places.tests.replaceChildren(...tests());
    places.proofs.hidden = build.proofs.length === 0;
    places.proofs.replaceChildren(...proofs(build));
    lists.layouts.replaceChildren(...build.layouts.map(layout));
    lists.notes.replaceChildren(...[...build.notes].reverse().map(note));
    if (focused?.isConnected && focused !== document.activeElement) focused.focus({ preventScroll: true });
  }

  /** Changes the build; `kept` is called before what then is there is drawn. */
  async function change(path, body, said, undo = null, kept = () => {}) {
    try {
      const found = await tellJson(`/api/builds/${id}/${path}`, body);
      kept();
      take(found);
      if (said) toast(said, undo);
    } catch (error) { toast(error.message); }
  }

  function facts() {
    return [factsList(build.build), guides(), h('div', { class: 'row' },
      h('button', { type: 'button', text: 'Change what is said', onclick: say }),
      build.tests.length > 0 && h('button', { type: 'button', text: 'Guides as last measured', onclick: () => change('facts', { guides_as_measured: true }, 'The guides as built are those of the latest photo.') })),
    h('p', { class: 'quiet', text: `Since ${build.created_at.slice(0, 10)}; described ${build.revisions === 1 ? 'once' : `${build.revisions} times`}.` })];
  }

  function say() {
    const form = factsForm(build.build, said => {
      const sent = typedIn(form);
      change('facts', said, 'Said anew; what was said before stays in the history.', null, () => { if (typedIn(form) === sent) { form.remove(); saying = null; } });
    }, () => { form.remove(); saying = null; draw(); });
    saying = form;
    draw();
  }

  function guides() {
    const all = build.build.guides;
    if (all.length === 0) return h('p', { class: 'quiet', text: 'No guides as built are written down yet.' });
    const mm = value => value === null ? '–' : settings.units === 'mm' ? bare(value, 'mm') : sixteenths(value);
    return scroller('Guides as built', h('table', { class: 'figures changes' }, h('caption', {}, 'Guides as built ', h('span', { class: 'quiet', text: settings.units === 'mm' ? 'in mm' : 'in inches' })),
      h('thead', {}, h('tr', {}, ...['Guide', 'From tip', 'From reel', 'Ring', 'Frame'].map(t => h('th', { scope: 'col', text: t })))),
      h('tbody', {}, ...all.map((g, i) => h('tr', {}, h('th', { scope: 'row', text: g.from_tip_mm === 0 ? 'Tip' : String(i + 1) }), h('td', { text: mm(g.from_tip_mm) }), h('td', { text: mm(g.from_reel_mm) }),
        h('td', { text: g.ring_size_mm === null ? '–' : String(g.ring_size_mm) }), h('td', { text: g.frame ?? '' }))))));
  }

  function tests() {
    const counting = build.tests.filter(t => !t.set_aside);
    return [h('h2', { text: 'Tests' }), build.tests.length === 0 && h('p', { class: 'quiet', text: 'None yet: open a photo of the bench and keep it with this build.' }),
      history(), counting.length > 1 && h('p', {}, h('a', { class: 'button primary', href: `/builds/${id}/compare`, 'data-view': true, text: 'Before and after' })),
      h('ul', { class: 'tests' }, ...[...build.tests].reverse().map(test))].filter(Boolean);
  }

  function test(t) {
    const name = t.label ?? t.made_at.slice(0, 10), worst = t.follows_worst;
    const open = form => { asking.set(t.id, form); draw(); form.querySelector('input')?.focus(); };
    const buttons = asking.has(t.id) ? [asking.get(t.id)] : [
      t.on_bench ? h('a', { class: 'button', href: `/photo/${t.on_bench}`, 'data-view': true, text: 'Look at it' }) : h('button', { type: 'button', text: 'Open on the bench', onclick: () => toBench(t) }),
      t.set_aside
        ? h('button', { type: 'button', text: 'Count it again', onclick: () => change(`tests/${t.id}/again`, {}, 'It counts again.') })
        : h('button', { type: 'button', text: 'Set aside', 'aria-label': `Set aside: ${name}`, onclick: () => open(asideForm(t)) }),
      h('button', { type: 'button', text: 'Other build', 'aria-label': `Other build: ${name}`, onclick: () => open(moveForm(t)) }),
    ];
    return h('li', { class: t.set_aside ? 'aside' : '' },
      h('span', { class: 'state', text: t.set_aside ? `Set aside${t.set_aside_reason ? `: ${t.set_aside_reason}` : ''}` : t.status === 'ok' ? 'Measured' : 'Needs review' }),
      h('strong', { text: t.label ? `${t.label}, ${t.made_at.slice(0, 10)}` : t.made_at.slice(0, 16).replace('T', ' ') }),
      h('span', { text: worst ? `${worst.from} to ${worst.to_tip ? 'tip-top' : worst.to} follows worst: ${worst.by} ${withUncertainty(worst.mm, worst.uncertainty_mm, settings.units)} ${settings.units}; tip turns ${Math.round(t.tip_turn_deg)}°` : `tip turns ${Math.round(t.tip_turn_deg)}°` }),
      h('div', { class: 'row' }, ...buttons));
  }

  function asideForm(t) {
    const why = h('input', { id: `why-${t.id}`, maxlength: 2000 });
    return h('form', { class: 'inline-form', onsubmit: event => { event.preventDefault(); change(`tests/${t.id}/aside`, { reason: why.value }, 'Set aside: kept, and left out of comparisons.', { text: 'Undo', run: () => change(`tests/${t.id}/again`, {}, '') }, () => asking.delete(t.id)); } },
      h('label', { for: why.id, text: 'What is wrong with it?' }), why, h('button', { type: 'submit', text: 'Set aside' }), h('button', { type: 'button', text: 'Leave it', onclick: () => { asking.delete(t.id); draw(); } }));
  }

  function moveForm(t) {
    const to = h('input', { id: `to-${t.id}`, required: true });
    return h('form', { class: 'inline-form', onsubmit: event => { event.preventDefault(); change(`tests/${t.id}/move`, { to: to.value }, 'It is with that build now.', null, () => asking.delete(t.id)); } },
      h('label', { for: to.id, text: 'Name of its right build' }), to, h('button', { type: 'submit', text: 'Move it' }), h('button', { type: 'button', text: 'Leave it', onclick: () => { asking.delete(t.id); draw(); } }));
  }

  async function toBench(t) {
    try { go(`/photo/${(await tellJson(`/api/builds/${id}/tests/${t.id}/bench`, {})).id}`); } catch (error) { toast(error.message); }
  }

  /** How the pair that follows worst went from test to test. */
  function history() {
    const steps = build.history.filter(t => t.follows_worst?.by === 'bow');
    if (steps.length < 2) return '';
    const width = 360, height = 130, most = 1.15 * Math.max(...steps.map(t => t.follows_worst.mm + t.follows_worst.uncertainty_mm));
    const x = i => 24 + (width - 48) * i / (steps.length - 1), y = mm => height - 24 - (height - 44) * mm / most;
    return s('svg', { viewBox: `0 0 ${width} ${height}`, class: 'course', role: 'img', 'aria-label': `Largest bow of the running guides by test: ${steps.map(t => bare(t.follows_worst.mm, settings.units)).join(', ')} ${settings.units}` },
      s('line', { x1: 8, x2: width - 8, y1: y(0), y2: y(0), class: 'tick' }), s('path', { d: steps.map((t, i) => `${i ? 'L' : 'M'}${x(i)} ${y(t.follows_worst.mm)}`).join(''), class: 'course-line' }),
      ...steps.map((t, i) => s('g', {}, s('line', { x1: x(i), x2: x(i), y1: y(t.follows_worst.mm - t.follows_worst.uncertainty_mm), y2: y(t.follows_worst.mm + t.follows_worst.uncertainty_mm), class: 'course-line' }),
        s('circle', { cx: x(i), cy: y(t.follows_worst.mm), r: 4, class: 'dot' }), steps.length < 9 && s('text', { x: x(i), y: y(t.follows_worst.mm + t.follows_worst.uncertainty_mm) - 6, 'text-anchor': 'middle', text: bare(t.follows_worst.mm, settings.units) }))));
  }

  function layouts() {
    const name = h('input', { id: 'layout-name', required: true, maxlength: 200 });
    const add = from => name.reportValidity() && change('layouts', { name: name.value, from }, 'Kept as a layout that is considered.', null, emptied(name));
    return h('section', { 'aria-label': 'Layouts' }, h('h2', { text: 'Layouts' }), lists.layouts,
      h('form', { class: 'inline-form', onsubmit: event => { event.preventDefault(); add(build.tests.length ? 'measured' : ''); } }, h('label', { for: name.id, text: 'Keep a layout, called' }), name,
        h('button', { type: 'button', text: 'as suggested', onclick: () => add('suggested') }), h('button', { type: 'button', text: 'as measured', onclick: () => add('measured') })),
      h('div', { class: 'row' }, h('button', { type: 'button', text: 'Start one from the build most like it', onclick: () => change('start', {}, 'A layout to tape on and test, not a finished one.') })));
  }

  function layout(l) {
    return h('li', {}, h('strong', { text: l.chosen ? `${l.name}, chosen` : l.name }), h('span', { text: l.basis }),
      h('span', { text: `From the tip: ${l.guides.map(g => settings.units === 'mm' ? bare(g.from_tip_mm, 'mm') : sixteenths(g.from_tip_mm)).join(', ')}${settings.units === 'mm' ? ' mm' : ''}` }),
      !l.chosen && h('div', { class: 'row' }, h('button', { type: 'button', text: 'Choose it', 'aria-label': `Choose it: ${l.name}`, onclick: () => change('choose', { layout: l.id }, 'Chosen.') })));
  }

  function notes() {
    const text = h('textarea', { id: 'note-text', required: true, maxlength: 20000 });
    const kind = h('select', { id: 'note-kind' }, ...KINDS.map(([value, says]) => h('option', { value, text: says })));
    return h('section', { 'aria-label': 'Notes' }, h('h2', { text: 'Notes and test casts' }), lists.notes,
      h('form', { class: 'form', onsubmit: event => { event.preventDefault(); change('notes', { text: text.value, kind: kind.value }, 'Kept.', null, emptied(text)); } },
        h('label', { for: kind.id }, 'Kind', kind), h('label', { for: text.id }, 'What was seen', text), h('div', { class: 'row' }, h('button', { type: 'submit', text: 'Add' }))));
  }

  function note(n) {
    return h('li', {}, h('span', { class: 'quiet', text: `${n.at.slice(0, 16).replace('T', ' ')}, ${KINDS.find(k => k[0] === n.kind)?.[1].toLowerCase()}` }), h('p', { text: n.text }));
  }

  function reports() {
    const file = (name, text) => h('a', { class: 'button', href: `/api/builds/${id}/${name}`, download: true, text });
    return h('section', { class: 'wide', 'aria-label': 'Reports' }, h('h2', { text: 'Reports' }), h('div', { class: 'downloads' }, file('sheet.pdf?paper=a4', 'Build sheet, A4'), file('sheet.pdf?paper=letter', 'Build sheet, Letter'),
      file('sheet.html', 'Build sheet, HTML'), file('tables.zip', 'Tables (CSV)'), file('sheet.json', 'Everything (JSON)'), file('layout.json', 'Layout to print')));
  }
}

/** What empties a field once what stood in it is kept; typed on meanwhile, it stays. @param {HTMLInputElement|HTMLTextAreaElement} field */
function emptied(field) {
  const sent = field.value;
  return () => { if (field.value === sent) field.value = ''; };
}

/** All that stands in a form. @param {HTMLFormElement} form */
const typedIn = form => JSON.stringify([...new FormData(form)]);
