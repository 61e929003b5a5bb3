// The classes of this archive, and making one.

import { send } from '../api.js';
import { h, toast } from '../dom.js';

/** @param {HTMLElement} main @param {string} _ @param {(address: string) => void} go @returns {() => void} */
export function classesPage(main, _, go) {
  document.title = 'Class · DeflectScan';
  let left = false;
  const name = h('input', { id: 'class-name', maxlength: 80, required: true, placeholder: 'Saturday, beginners' });
  const list = h('ul', { class: 'class-list' });
  main.replaceChildren(h('h1', { text: 'Class' }),
    h('p', { class: 'quiet', text: 'Every student sends a photo by phone; the board puts the rods side by side.' }),
    h('form', { class: 'form', onsubmit: make }, h('label', { for: 'class-name' }, 'Name of the class', name), h('button', { type: 'submit', class: 'primary', text: 'Make a class' })),
    h('h2', { class: 'visually-hidden', text: 'Classes' }), list);
  load();
  return () => { left = true; };

  async function make(event) {
    event.preventDefault();
    try {
      const made = await send('/api/classes', { method: 'POST', headers: { 'Content-Type': 'application/json' }, body: JSON.stringify({ title: name.value }) });
      go(`/classes/${made.id}`);
    } catch (error) {
      toast(error.message);
    }
  }

  async function load() {
    try {
      const all = await send('/api/classes', {});
      if (left) return;
      list.replaceChildren(...all.map(c => h('li', { class: 'build-row' }, h('a', { href: `/classes/${c.id}`, 'data-view': true },
        h('span', { class: 'name', text: c.title }),
        h('span', { class: 'facts' }, h('span', { text: c.madeAt.slice(0, 10) }), h('span', { text: `${c.students} students` }), h('span', { text: `${c.photos} photos` }), h('span', { text: c.open ? 'open' : 'closed' }))))));
    } catch (error) {
      if (!left) toast(error.message);
    }
  }
}
