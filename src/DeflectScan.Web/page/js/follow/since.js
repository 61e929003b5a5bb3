// On a photo's page: what changed since the photo before it, what was set on that one, and the build that it is kept with.

import * as api from '../api.js';
import { ask, tellJson } from '../keep/archive-api.js';
import { h, toast } from '../dom.js';

/** @param {HTMLElement} place @param {string} id @param {(view: any) => void} changed */
export function since(place, id, changed) {
  let drawn = '';
  return { draw };

  /** @param {any} view */
  async function draw(view) {
    const now = `${view.key}/${view.stage}`;
    if (view.stage !== 'done' || now === drawn) return;
    drawn = now;
    try {
      const found = await ask(`/api/photos/${id}/series`);
      place.replaceChildren(...[...series(found), ...proposal(found), keeping(view)].filter(Boolean));
    } catch (error) { toast(error.message); }
  }

  function series(found) {
    if (!found.series || found.count < 2) return [];
    return [h('h2', { text: `Photo ${found.number} of ${found.count} from this stand` }),
      found.step && h('p', { text: found.step.headline }),
      h('p', {}, h('a', { href: `/series/${found.series}?photo=${id}`, 'data-view': true, class: 'button', text: 'See the series' }))];
  }

  function proposal(found) {
    if (!found.proposal) return [];
    return [h('h2', { text: 'Set on the photo before' }), h('p', { text: found.proposal.says }),
      h('p', {}, h('button', { type: 'button', text: 'Take it over', onclick: carry }))];
  }

  async function carry() {
    try {
      const view = await tellJson(`/api/photos/${id}/carry`, {});
      changed(view);
      if (view.undo) toast(`${view.undo}.`, { text: 'Undo', run: async () => changed(await api.tell(id, 'undo')) });
    } catch (error) { toast(error.message); }
  }

  function keeping(view) {
    return view.key && view.status !== 'refused' && h('p', { class: 'keep-line' }, h('a', { href: `/builds?keep=${id}`, 'data-view': true, class: 'button', text: 'Keep with a build' }));
  }
}
