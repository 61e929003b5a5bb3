// On the bench: the series that photos from one stand make.

import { ask } from '../keep/archive-api.js';
import { h } from '../dom.js';

/** @param {HTMLElement} place */
export function seriesList(place) {
  let timer = 0;
  return { refresh };

  /** Many photos may be done at once: they are asked for together. */
  function refresh() {
    clearTimeout(timer);
    timer = setTimeout(load, 150);
  }

  async function load() {
    try {
      const series = (await ask('/api/series')).filter(s => s.count > 1);
      place.replaceChildren(...(series.length === 0 ? [] : [h('h2', { text: series.length === 1 ? 'Series' : 'Series, the newest first' }), h('ul', { class: 'series-list' }, ...series.slice(0, 5).map(s =>
        h('li', { class: 'build-row' }, h('a', { href: `/series/${s.id}`, 'data-view': true },
          h('span', { class: 'name', text: `${s.count} photos from one stand` }), h('span', { class: 'facts', text: s.headline ?? s.name })))))]));
    } catch { /* the list of photos says that the server does not answer */ }
  }
}
