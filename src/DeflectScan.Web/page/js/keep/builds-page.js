// The archive: its builds as a list, the reference book, a new build; with ?keep=PHOTO the build is chosen that a photo of the bench is kept with.

import { ask, query, sendFile, tellJson } from './archive-api.js';
import { length, withUncertainty } from '../format.js';
import { h, toast } from '../dom.js';
import { settings } from '../settings.js';

const SORTS = [['changed', 'changed last'], ['name', 'name'], ['length', 'length'], ['worst', 'follows worst'], ['gap', 'largest gap'], ['turn', 'tip turn']];

/** @param {HTMLElement} main @param {string} _ @param {(address: string, how?: any) => void} go @returns {() => void} */
export function buildsPage(main, _, go) {
  document.title = 'Builds · DeflectScan';
  const asked = new URLSearchParams(location.search);
  const keep = /^[0-9a-f]{16}$/.test(asked.get('keep') ?? '') ? asked.get('keep') : null;
  let left = false, wanted = 0, timer = 0;
  const say = h('p', { class: 'quiet', role: 'status' });
  const list = h('ul', { 'aria-label': 'Builds' });
  const pager = h('div', { class: 'pager' });
  const words = h('input', { type: 'search', id: 'words', value: asked.get('words') ?? '', placeholder: 'Name, owner, blank, notes …' });
  const sort = h('select', { id: 'sort' }, ...SORTS.map(([value, text]) => h('option', { value, text, selected: asked.get('sort') === value })));
  const side = h('select', { id: 'side' }, ...[['', 'either side'], ['inside', 'inside (spinning)'], ['outside', 'outside (casting)']].map(([value, text]) => h('option', { value, text, selected: asked.get('side') === value })));
  const label = h('input', { id: 'label', placeholder: 'first test' });
  main.className = 'builds';
  main.replaceChildren(
    h('h1', { text: keep ? 'Keep the photo with a build' : 'Builds' }),
    keep ? h('div', { class: 'search' }, h('label', { for: 'label' }, 'What to call the test', label), h('p', { class: 'quiet', text: 'Choose the build below, or name a new one.' })) : '',
    newBuild(),
    h('form', { class: 'search', role: 'search', onsubmit: event => { event.preventDefault(); first(); } },
      h('div', { class: 'row' }, h('label', { class: 'words', for: 'words' }, 'Words', words), h('label', { for: 'sort' }, 'Sorted by', sort), h('label', { for: 'side' }, 'Guides', side), h('button', { type: 'submit', text: 'Find' }))),
    keep ? '' : likeness(), say, list, pager, keep ? '' : whole());
  words.addEventListener('input', () => { clearTimeout(timer); timer = setTimeout(first, 250); });
  for (const choice of [sort, side]) choice.addEventListener('change', first);
  load(Number(asked.get('page')) || 1);
  return () => { left = true; clearTimeout(timer); };

  function first() { load(1); }

  async function load(page) {
    const mine = ++wanted;
    const values = { words: words.value.trim(), sort: sort.value === 'changed' ? '' : sort.value, side: side.value, page: page === 1 ? '' : page };
    go(`/builds${[query({ ...values, keep })].map(q => q && `?${q}`)}`, { replace: true, quiet: true });
    try {
      const found = await ask(`/api/builds?${query(values)}`);
      if (left || mine !== wanted) return;
      say.textContent = found.count === 0 ? (values.words || values.side ? 'Nothing is like that: ask for less.' : 'No build is kept yet. Name one above, or open a photo of the bench and keep it.') : found.count === 1 ? '1 build' : `${found.count} builds`;
      list.replaceChildren(...found.builds.map(b => row(b)));
      pager.replaceChildren(...(found.pages < 2 ? [] : [
        h('button', { type: 'button', text: '←', 'aria-label': 'Page before', disabled: found.page === 1, onclick: () => load(found.page - 1) }),
        h('span', { text: `Page ${found.page} of ${found.pages}` }),
        h('button', { type: 'button', text: '→', 'aria-label': 'Next page', disabled: found.page === found.pages, onclick: () => load(found.page + 1) })]));
    } catch (error) { if (!left) toast(error.message); }
  }

  /** @param {any} b @param {string} [why] */
  function row(b, why = '') {
    const facts = [b.owner, b.blank, b.blank_length_mm !== null && (settings.units === 'mm' ? `${Math.round(b.blank_length_mm)} mm` : length(b.blank_length_mm, 'in')), b.reel_class && `reel ${b.reel_class}`,
      b.tip_turn_deg !== null && `tip turns ${Math.round(b.tip_turn_deg)}°`, b.measurements === 1 ? '1 test' : `${b.measurements} tests`, String(b.changed_at).slice(0, 10)];
    const inside = [h('span', { class: 'name', text: b.name }),
      b.follows_worst && h('span', { class: 'worst-text', text: `${b.follows_worst.from} to ${b.follows_worst.to_tip ? 'tip-top' : b.follows_worst.to} follows worst: ${b.follows_worst.by} ${withUncertainty(b.follows_worst.mm, b.follows_worst.uncertainty_mm, settings.units)} ${settings.units}` }),
      why && h('span', { text: why }),
      h('span', { class: 'facts' }, ...facts.filter(Boolean).map(text => h('span', { text })))];
    return h('li', { class: 'build-row' }, keep
      ? h('a', { href: `/builds/${b.id}`, onclick: event => { event.preventDefault(); keepWith({ build: b.id }); } }, ...inside)
      : h('a', { href: `/builds/${b.id}`, 'data-view': true }, ...inside));
  }

  function newBuild() {
    const name = h('input', { id: 'new-name', required: true, maxlength: 200 });
    return h('form', { class: 'inline-form', onsubmit: async event => {
      event.preventDefault();
      if (keep) { keepWith({ name: name.value }); return; }
      try { go(`/builds/${(await tellJson('/api/builds', { name: name.value })).id}`); } catch (error) { toast(error.message); }
    } }, h('label', { for: 'new-name', text: 'A new build, called' }), name, h('button', { type: 'submit', text: keep ? 'Keep it there' : 'Add' }));
  }

  async function keepWith(where) {
    try {
      const build = await tellJson(`/api/photos/${keep}/keep`, { ...where, label: label.value });
      go(`/builds/${build.id}`);
      toast(`Kept with “${build.build.name}”.`);
    } catch (error) { toast(error.message); }
  }

  /** The reference book: builds like what is looked for, each with the reason. */
  function likeness() {
    const field = (name, text, more = {}) => h('label', { for: `like-${name}` }, text, h('input', { id: `like-${name}`, name, ...more }));
    const inch = settings.units === 'in';
    const found = h('ul', { 'aria-label': 'Like that' });
    return h('details', { class: 'opens' }, h('summary', { text: 'The reference book: builds like …' }),
      h('form', { class: 'search', onsubmit: async event => {
        event.preventDefault();
        const data = Object.fromEntries(new FormData(event.target));
        if (data.length) data.length = String(Number(data.length) * (inch ? 25.4 : 1));
        try {
          const { found: all } = await ask(`/api/builds/find?${query(data)}`);
          found.replaceChildren(...(all.length === 0 ? [h('li', { text: 'Nothing is like that: ask for less.' })] : all.map(f => row(f.build, `${Math.round(f.likeness * 100)} % like it: ${f.reason}`))));
        } catch (error) { toast(error.message); }
      } }, h('div', { class: 'row' }, field('length', `Length, ${settings.units}`, { type: 'number', min: 1, step: 'any' }), field('turn', 'Tip turn, °', { type: 'number', min: 0, max: 180, step: 'any' }),
        field('reel', 'Reel class', { type: 'number', min: 100 }), field('line', 'Line'), field('use', 'Use'), h('button', { type: 'submit', text: 'Look' }))), found);
  }

  /** The archive as one file, in and out. */
  function whole() {
    const input = h('input', { type: 'file', accept: '.zip,application/zip', class: 'visually-hidden' });
    input.addEventListener('change', async () => {
      if (!input.files?.length) return;
      say.textContent = 'Taking it in…';
      try {
        const r = await sendFile('/api/archive/import', input.files[0]);
        toast(r.rows === 0 ? 'Everything in it was here already.' : `New here: ${r.builds} builds, ${r.measurements} tests, ${r.photos} photos.`);
        first();
      } catch (error) { toast(error.message); say.textContent = ''; }
      input.value = '';
    });
    return h('details', { class: 'opens' }, h('summary', { text: 'The whole archive' }), h('div', { class: 'downloads' },
      h('a', { class: 'button', href: '/api/archive/export.zip', download: true, text: 'Save all as one file' }),
      h('label', { class: 'button' }, input, 'Take in such a file'),
      h('a', { class: 'button', href: '/api/builds.csv', download: true, text: 'All tests as a table (CSV)' }),
      h('button', { type: 'button', text: 'Read through it', onclick: verify })));
  }

  async function verify() {
    say.textContent = 'Reading every file and row…';
    try {
      const r = await tellJson('/api/archive/verify', {});
      say.textContent = r.clean ? `All is as it was written: ${r.builds} builds, ${r.measurements} tests, ${r.photos} photos.` : r.damages.map(d => `${d.where}: ${d.what}. ${d.recovery}`).join(' ');
    } catch (error) { say.textContent = ''; toast(error.message); }
  }
}
