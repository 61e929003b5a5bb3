// What is said of a build: read, and said anew.

import { length } from '../format.js';
import { h } from '../dom.js';
import { settings } from '../settings.js';

const SIDES = [['', 'not said'], ['inside', 'inside the bend (spinning)'], ['outside', 'outside the bend (casting)']];
const FIELDS = [['name', 'Name'], ['owner', 'Owner'], ['blank', 'Blank'], ['blank_length_mm', 'Length'], ['pieces', 'Pieces'], ['spine_mark', 'Spine'], ['handle', 'Handle'], ['reel_class', 'Reel class'], ['line', 'Line'], ['side', 'Guides'], ['use', 'Use'], ['remarks', 'Remarks']];

/** @param {any} facts */
export function factsList(facts) {
  const said = FIELDS.slice(1).map(([name, title]) => [title, name === 'blank_length_mm' && facts[name] !== null ? settings.units === 'mm' ? `${Math.round(facts[name] * 10) / 10} mm` : length(facts[name], 'in') : name === 'side' ? SIDES.find(s => s[0] === facts.side)?.[1] : facts[name]]).filter(([, v]) => v !== null && v !== undefined && v !== '');
  return said.length === 0 ? h('p', { class: 'quiet', text: 'Nothing but the name is said yet.' }) : h('dl', { class: 'facts-list' }, ...said.flatMap(([title, value]) => [h('dt', { text: title }), h('dd', { text: String(value) })]));
}

/** A guide as one types it. */
const typed = g => [`tip ${g.from_tip_mm} mm`, g.from_reel_mm !== null && `reel ${g.from_reel_mm} mm`, g.ring_size_mm !== null && `ring ${g.ring_size_mm}`, g.frame && `frame ${g.frame}`].filter(Boolean).join(', ');

/** @param {any} facts @param {(said: any) => void} save @param {() => void} leave */
export function factsForm(facts, save, leave) {
  const inch = settings.units === 'in';
  const field = (name, title, more = {}) => h('label', { for: `fact-${name}` }, title, h('input', { id: `fact-${name}`, name, value: facts[name] ?? '', ...more }));
  const side = h('select', { id: 'fact-side', name: 'side' }, ...SIDES.map(([value, text]) => h('option', { value, text, selected: (facts.side ?? '') === value })));
  const guides = h('textarea', { id: 'fact-guides', name: 'guides', rows: 6 });
  guides.value = facts.guides.map(typed).join('\n');
  const remarks = h('textarea', { id: 'fact-remarks', name: 'remarks' });
  remarks.value = facts.remarks ?? '';
  return h('form', { class: 'form', onsubmit: event => {
    event.preventDefault();
    const data = Object.fromEntries(new FormData(event.target));
    const text = name => String(data[name] ?? '').trim() || null, number = name => data[name] === '' ? null : Number(data[name]);
    const lines = String(data.guides).split('\n').map(l => l.trim()).filter(Boolean);
    const same = lines.join('\n') === facts.guides.map(typed).join('\n');
    const said = {
      name: text('name'), owner: text('owner'), blank: text('blank'), blank_length_mm: number('blank_length_mm') === null ? null : number('blank_length_mm') * (inch ? 25.4 : 1), pieces: number('pieces'), spine_mark: text('spine_mark'),
      handle: text('handle'), reel_class: number('reel_class'), line: text('line'), side: text('side'), use: text('use'), remarks: text('remarks'), ...(same ? {} : { guides: lines }),
    };
    // Only what was changed here: what another browser said meanwhile stays.
    save(Object.fromEntries(Object.entries(said).filter(([key, value]) => !(key in facts) || (facts[key] ?? null) !== value)));
  } },
  h('div', { class: 'grid' }, field('name', 'Name', { required: true, maxlength: 200 }), field('owner', 'Owner'), field('blank', 'Blank'),
    field('blank_length_mm', `Length, ${settings.units}`, { type: 'number', step: 'any', min: 1, value: facts.blank_length_mm === null ? '' : inch ? (facts.blank_length_mm / 25.4).toFixed(2) : facts.blank_length_mm }),
    field('pieces', 'Pieces', { type: 'number', min: 1, max: 20 }), field('spine_mark', 'Spine'), field('handle', 'Handle'), field('reel_class', 'Reel class', { type: 'number', min: 100 }), field('line', 'Line'),
    h('label', { for: 'fact-side' }, 'Guides', side), field('use', 'Use')),
  h('label', { for: 'fact-guides' }, 'Guides as built, one a line', guides), h('p', { class: 'quiet', text: 'As in: tip 1222mm, reel 22 1/2in, ring 25, frame high' }),
  h('label', { for: 'fact-remarks' }, 'Remarks', remarks),
  h('div', { class: 'row' }, h('button', { type: 'submit', class: 'primary', text: 'Say it' }), h('button', { type: 'button', text: 'Leave it', onclick: leave })));
}
