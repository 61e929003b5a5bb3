// A measured photo against readings by tape and caliper: the form, the verdict, and the readings drawn beside what both uncertainties allow.

import * as api from '../api.js';
import { h, toast } from '../dom.js';
import { withUncertainty } from '../format.js';
import { settings } from '../settings.js';
import { picture } from './proof-picture.js';

/** @param {HTMLElement} main @param {string} id @returns {() => void} */
export function proofPage(main, id) {
  let key = new URLSearchParams(location.search).get('of') ?? '', gone = false;
  const verdict = h('section', { class: 'proof-verdict', 'aria-label': 'What the readings say' });
  const form = h('form', { class: 'proof-form', 'aria-label': 'Readings by hand', onsubmit: compare });
  main.className = 'broad';
  main.replaceChildren(h('p', {}, h('a', { class: 'back', href: `/photo/${id}`, 'data-view': true, text: '← The photo' })), h('h1', { text: 'Proof by hand' }),
    h('p', { class: 'caution', text: 'The rod stays tied off as in the photo. It can break and the cord can snap back: eye protection on, out of the cord\'s line, hands off the cord. Do not touch the line while reading a gap: it yields.' }),
    form, verdict);
  load();
  return () => { gone = true; };

  async function load() {
    try {
      const view = await api.photo(id);
      key ||= view.key;
      const doc = key ? await api.measurement(id, key) : null;
      if (!doc?.guides?.length) throw new Error('This photo has no figures to hold readings against.');
      if (gone) return;
      document.title = `Proof · ${view.name} · DeflectScan`;
      draw(doc);
    } catch (error) { form.replaceChildren(h('p', { text: error.message })); }
  }

  function draw(doc) {
    const n = doc.guides.length - 1, guides = Array.from({ length: n }, (_, i) => i + 1);
    const kept = stored();
    form.replaceChildren(
      h('p', { class: 'quiet', text: `Fill in what you read, in ${settings.units === 'mm' ? 'mm' : 'inches'}; what is left empty is left out. ± is what 19 of 20 readings lie within; left empty it is 2 mm for a tape and 0.5 mm for a gap.` }),
      h('p', {}, h('a', { class: 'button', href: api.withUnits(`/api/photos/${id}/proof/${key}/sheet.pdf`), target: '_blank', rel: 'noopener', text: 'Print the page for the bench' })),
      h('div', { class: 'proof-groups' },
        group('Tape, from the tip-top\'s ring', guides.map(g => ({ what: 'station', from: g, to: null, name: `to guide ${g}` }))),
        group('Tape, guide to guide', guides.slice(0, -1).map(g => ({ what: 'station', from: g, to: g + 1, name: `${g} to ${g + 1}` }))),
        group('Gaps, where they are largest', guides.map(g => ({ what: 'gap', from: g, to: g < n ? g + 1 : null, name: `${g} to ${g < n ? g + 1 : 'tip-top'}` })))),
      h('button', { type: 'submit', class: 'primary', text: 'Compare' }));

    function group(title, rows) {
      return h('fieldset', {}, h('legend', { text: title }), ...rows.map(r => {
        const name = `${r.what}-${r.from}-${r.to ?? 'tip'}`;
        const input = (part, label) => h('input', { type: 'text', inputmode: 'decimal', autocomplete: 'off', maxlength: 40, name: `${name}-${part}`, 'data-what': r.what, 'data-from': r.from,
          'data-to': r.to, 'data-part': part, 'aria-label': `${title}: ${r.name}, ${label}`, value: kept[`${name}-${part}`] ?? '', oninput: keep });
        return h('div', { class: 'proof-row' }, h('span', { text: r.name, 'aria-hidden': true }), input('reading', 'reading'), h('span', { text: '±', 'aria-hidden': true }), input('within', 'plus or minus'));
      }));
    }
  }

  /** What was typed stays in this browser, so that a closed page loses nothing. */
  function keep() {
    const typed = Object.fromEntries([...form.querySelectorAll('input')].filter(i => i.value).map(i => [i.name, i.value]));
    try { localStorage.setItem(`deflectscan.proof.${id}`, JSON.stringify(typed)); } catch { /* private browsing */ }
  }

  function stored() {
    try { return JSON.parse(localStorage.getItem(`deflectscan.proof.${id}`) ?? '{}'); } catch { return {}; }
  }

  async function compare(event) {
    event.preventDefault();
    const readings = read();
    try {
      const proof = await tell('', { readings });
      const { builds } = await api.send(`/api/photos/${id}/proof/${key}/builds`, {});
      if (!gone) show(proof, readings, builds);
    } catch (error) { toast(error.message); }
  }

  function read() {
    return [...form.querySelectorAll('input[data-part="reading"]')].filter(i => i.value.trim()).map(i => ({
      what: i.dataset.what, from: Number(i.dataset.from), to: i.dataset.to ? Number(i.dataset.to) : null, reading: i.value.trim(),
      within: form.querySelector(`[name="${i.name.replace(/reading$/, 'within')}"]`).value.trim(),
    }));
  }

  function tell(path, body) {
    return api.send(`/api/photos/${id}/proof/${key}${path}`, { method: 'POST', headers: { 'Content-Type': 'application/json' }, body: JSON.stringify(body) });
  }

  /** What was compared can be kept with a build that has the photo. */
  function keeping(readings, builds) {
    const says = `What is kept: ${readings.length === 1 ? 'the reading' : `the ${readings.length} readings`}, the photo's figures beside them and what they came to. Of several proofs of one test the latest counts.`;
    const choice = builds.length > 1 ? h('select', { id: 'proof-build' }, ...builds.map(b => h('option', { value: b.id, text: b.name }))) : null;
    const place = h('section', { class: 'proof-keeping', 'aria-label': 'Keep this proof' }, h('h2', { text: 'Keep this proof' }));
    if (builds.length === 0) {
      place.append(h('p', { text: 'A proof is kept with a build that has this photo, and none has it yet.' }), h('p', {}, h('a', { class: 'button', href: `/builds?keep=${id}`, 'data-view': true, text: 'Keep the photo with a build first' })));
      return place;
    }
    place.append(h('p', { text: says }), h('div', { class: 'row' }, choice && h('label', { for: choice.id }, 'Build', choice),
      h('button', { type: 'button', text: choice ? 'Keep with that build' : `Keep with ${builds[0].name}`, onclick: async event => {
        const button = /** @type {HTMLButtonElement} */ (event.currentTarget);
        button.disabled = true;
        try {
          const build = await tell('/keep', { readings, build: choice ? choice.value : builds[0].id });
          place.replaceChildren(h('h2', { text: 'Kept' }), h('p', { role: 'status' }, 'This proof is with ', h('a', { href: `/builds/${build.id}`, 'data-view': true, text: build.build.name }), '.'));
        } catch (error) { button.disabled = false; toast(error.message); }
      } })));
    return place;
  }

  function show(proof, readings, builds) {
    const units = settings.units, words = { agree: ['ok', 'Photo and hand agree'], disagree: ['needs_review', 'Photo and hand contradict each other'], too_rough: ['needs_review', 'Too rough to prove anything'] };
    const [status, title] = words[proof.verdict];
    verdict.replaceChildren(
      h('p', { class: `status ${status}`, role: 'status', text: title }),
      ...proof.says.map(text => h('p', { text })),
      proof.causes.length ? h('div', {}, h('h2', { text: `What ${proof.is_suspicion ? 'might' : 'would'} explain it` }), h('ol', {}, ...proof.causes.map(c =>
        h('li', {}, h('strong', { text: c.says }), ` ${c.do} `, h('span', { class: 'quiet', text: `${c.share > 0.99 ? 'over 99' : Math.round(100 * c.share)} %, explains ${c.chi_square_explained.toFixed(1)} of chi-square ${proof.chi_square.toFixed(1)}` }))))) : '',
      picture(proof, verdict.parentElement.clientWidth - 32),
      h('table', {}, h('caption', { text: `Readings, ${units}` }),
        h('thead', {}, h('tr', {}, ...['Reading', 'By hand', 'Photo', 'E_n'].map(text => h('th', { scope: 'col', text })))),
        h('tbody', {}, ...proof.readings.map(r => h('tr', { class: r.en > 1 ? 'apart' : '' }, h('th', { scope: 'row', text: r.name }),
          h('td', { text: `${withUncertainty(r.reading_mm, r.reading_uncertainty_mm, units)}` }), h('td', { text: withUncertainty(r.photo_mm, r.photo_uncertainty_mm, units) }),
          h('td', { text: `${r.en.toFixed(1)}${r.en > 1 ? ' apart' : r.too_rough ? ' rough' : ''}` }))))),
      keeping(readings, builds));
    verdict.scrollIntoView({ block: 'nearest' });
  }
}
