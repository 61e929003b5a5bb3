// Before and after: two tests of one build, or of two, on one axis.

import { ask, query } from './archive-api.js';
import { changeTables } from '../follow/changes.js';
import { h, toast } from '../dom.js';
import { stripState, twoStrips } from '../follow/two-strips.js';

/** @param {HTMLElement} main @param {string} id @param {(address: string, how?: any) => void} go @returns {() => void} */
export function comparePage(main, id, go) {
  document.title = 'Before and after · DeflectScan';
  /** @type {any} */
  let shown = null, left = false;
  /** @type {number|null} */
  let pair = null;
  const asked = new URLSearchParams(location.search);
  const wanted = { before: asked.get('before'), after: asked.get('after'), with: asked.get('with') };
  const head = h('section', { class: 'answer', 'aria-label': 'What changed' }), tables = h('section', { class: 'noticed tables', 'aria-label': 'Figures' });
  const photos = h('section', { class: 'noticed both-photos', 'aria-label': 'Both photos' });
  const strips = twoStrips(from => { pair = from; draw(); });
  main.className = 'wide';
  main.replaceChildren(h('div', { class: 'series-page compare' }, head, strips.element, h('div', { class: 'series-side' }, photos), tables));
  const resize = () => draw();
  addEventListener('resize', resize);
  load();
  return () => { left = true; removeEventListener('resize', resize); };

  async function load() {
    try {
      const [step, build] = await Promise.all([ask(`/api/builds/${id}/compare?${query(wanted)}`), ask(`/api/builds/${id}`)]);
      const other = step.other === id ? build : await ask(`/api/builds/${step.other}`);
      const [before, after] = await Promise.all([ask(`/api/builds/${id}/tests/${step.before}/document.json`), ask(`/api/builds/${step.other}/tests/${step.after}/document.json`)]);
      if (left) return;
      shown = { step, build, other, before, after };
      Object.assign(wanted, { before: step.before.slice(-8), after: step.after.slice(-8) });
      go(`/builds/${id}/compare?${query(wanted)}`, { replace: true, quiet: true });
      draw();
      drawHead();
    } catch (error) {
      if (!left) main.replaceChildren(h('h1', { text: error.message }), h('p', {}, h('a', { href: `/builds/${id}`, 'data-view': true, text: 'Go to the build' })));
    }
  }

  function drawHead() {
    const { step, build, other } = shown;
    const tests = (of, chosen, name, says) => h('label', { for: name }, says, h('select', { id: name, onchange: event => { wanted[name] = event.target.value; load(); } },
      ...of.tests.filter(t => !t.set_aside || t.id === chosen).map(t => h('option', { value: t.id.slice(-8), selected: t.id === chosen, text: `${t.label ?? 'test'}, ${t.made_at.slice(0, 16).replace('T', ' ')}` }))));
    const otherName = h('input', { id: 'with', value: step.other === id ? '' : step.other_name, placeholder: build.build.name });
    head.replaceChildren(...[h('div', { class: 'above' }, h('a', { class: 'back', href: `/builds/${id}`, 'data-view': true, text: `← ${build.build.name}` })),
      h('h1', { text: step.other === id ? 'Before and after' : `${step.name} and ${step.other_name}` }),
      step.other !== id && h('p', { text: 'Two builds, so what differs is the builds and not a change.' }),
      h('div', { class: 'search' }, h('div', { class: 'row' }, tests(build, step.before, 'before', 'Before'), tests(other, step.after, 'after', 'After'),
        h('form', { class: 'row', onsubmit: event => { event.preventDefault(); Object.assign(wanted, { before: null, after: null, with: otherName.value.trim() || null }); load(); } }, h('label', { for: 'with' }, 'With another build', otherName), h('button', { type: 'submit', text: 'Compare' })))),
      h('ul', { class: 'changes-list' }, ...step.changes.map(text => h('li', { text })))].filter(Boolean));
    const address = which => `/api/builds/${id}/register/${which}.jpg?${query(wanted)}`;
    photos.replaceChildren(h('h2', { text: 'Both photos, the later laid on the earlier' }), h('p', { class: 'row' }, h('button', { type: 'button', text: 'Show them', onclick: show })));
    async function show() {
      const picture = h('img', { src: address('after'), alt: 'The later photo' }), flip = h('button', { type: 'button', 'aria-pressed': 'false', text: 'Flip to before', onclick: () => {
        const was = flip.getAttribute('aria-pressed') === 'true';
        flip.setAttribute('aria-pressed', String(!was));
        flip.textContent = was ? 'Flip to before' : 'Flip to after';
        picture.src = address(was ? 'after' : 'before');
        picture.alt = was ? 'The later photo' : 'The earlier photo';
      } });
      picture.addEventListener('error', () => toast('The photos cannot be laid on each other.'));
      photos.replaceChildren(h('h2', { text: 'Both photos, the later laid on the earlier' }), picture, h('p', { class: 'row' }, flip));
    }
  }

  function draw() {
    if (!shown) return;
    const { step, before, after } = shown, worst = after.running?.follows_worst.from ?? null;
    strips.draw(stripState(`${step.before}/${step.after}`, after, { worst, pair: pair ?? worst }), before, 'dashed: before');
    tables.replaceChildren(...changeTables(step, before, after));
  }
}
