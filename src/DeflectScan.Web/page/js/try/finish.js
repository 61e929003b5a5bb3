// The end of trying: the moves in the order to make them at the bench, the layout accepted, its sheet and tape.

import * as desk from './desk-api.js';
import { length, station } from '../format.js';
import { h, toast } from '../dom.js';
import { settings } from '../settings.js';

/** @param {HTMLElement} place @param {string} id */
export function finish(place, id) {
  place.setAttribute('aria-label', 'Moves and printing');
  /** @type {any} */
  let base = null, key = '', accepted = null, now = null, title = null, size = 'a4';
  return { open, draw };

  async function open(from, measurement) {
    [base, key] = [from, measurement];
    try { accepted = (await desk.accepted(id)).accepted; } catch (error) { toast(error.message); }
    if (now) draw(now);
  }

  /** @param {{layout: string, slot: string, answer: any}} what */
  function draw(what) {
    now = what;
    if (!base) return;
    const { layout, slot, answer } = what, focused = place.contains(document.activeElement) ? document.activeElement?.getAttribute('data-does') : null;
    const isAccepted = accepted && accepted.layout === layout && accepted.of === key;
    const name = h('input', { type: 'text', id: 'layout-title', maxlength: 120, value: title ?? accepted?.title ?? base.name, 'data-does': 'title', oninput: event => { title = event.target.value; } });
    place.replaceChildren(...[
      h('h2', { text: slot ? `Moves to layout ${slot}` : 'Moves' }),
      answer && (answer.moves.length === 0 ? h('p', { class: 'quiet', text: 'Nothing is to be moved: this is the layout as measured.' })
        : h('ol', { class: 'moves' }, ...answer.moves.map(move))),
      answer?.moves.some(m => m.act === 'add') && h('p', { class: 'quiet', text: 'Then thread the line anew. Let the rod down first: a loaded rod can break or let go.' }),
      h('div', { class: 'accept' }, h('label', { for: 'layout-title', text: 'Name on the paper' }), name,
        isAccepted ? h('p', { class: 'status ok', role: 'status', text: 'Accepted' })
          : h('button', { type: 'button', class: 'primary', 'data-does': 'accept', text: slot ? `Accept layout ${slot}` : 'Accept this layout', disabled: !answer, onclick: take }),
        isAccepted && h('fieldset', { class: 'papers' }, h('legend', { class: 'visually-hidden', text: 'Paper' }), ...[['a4', 'A4'], ['letter', 'Letter']].map(([value, text]) =>
          h('label', { class: 'choice' }, h('input', { type: 'radio', name: 'paper', value, checked: size === value, 'data-does': value, onchange: () => { size = value; draw(now); } }), text))),
        isAccepted && h('div', { class: 'choices' }, paper('sheet', 'Print its sheet'), paper('tape', 'Print its tape'), h('button', { type: 'button', 'data-does': 'back', text: 'Take it back', onclick: back })),
        isAccepted && h('p', { class: 'quiet', text: 'Print the tape at 100 % and check its 100 mm rule with a ruler.' }),
        accepted && !isAccepted && h('p', { class: 'quiet' }, 'Accepted before: ', h('a', { href: `/photo/${id}/try?${new URLSearchParams({ of: accepted.of, a: accepted.layout })}`, 'data-view': true, text: accepted.title }))),
    ].filter(Boolean));
    if (focused) /** @type {HTMLElement|null} */ (place.querySelector(`[data-does="${focused}"]`))?.focus();
  }

  function move(m) {
    const { units } = settings;
    if (m.act === 'off') return h('li', {}, 'Take off ', h('strong', { text: `guide ${m.guide}` }), ` at ${station(m.fromMm, units)}`);
    if (m.act === 'add') return h('li', {}, 'Add ', h('strong', { text: `guide ${m.becomes}` }), ' at ', h('strong', { text: station(m.toMm, units) }), h('span', { class: 'quiet', text: ' from the tip' }));
    return h('li', {}, h('strong', { text: `Guide ${m.guide}` }), ` from ${station(m.fromMm, units)} to `, h('strong', { text: station(m.toMm, units) }),
      h('span', { class: 'quiet', text: ` ${length(Math.abs(m.toMm - m.fromMm), units)} towards the ${m.toMm < m.fromMm ? 'tip' : 'reel'}${m.becomes === m.guide ? '' : `; it becomes ${m.becomes}`}` }));
  }

  function paper(what, text) {
    return h('a', { class: 'button', target: '_blank', rel: 'noopener', 'data-does': what, href: desk.paper(id, accepted, what, size), text });
  }

  async function take() {
    try {
      accepted = (await desk.accept(id, key, now.layout, title ?? base.name)).accepted;
      toast('The layout is accepted.', { text: 'Undo', run: back });
      draw(now);
    } catch (error) { toast(error.message); }
  }

  async function back() {
    try { accepted = (await desk.takeBack(id)).accepted; draw(now); } catch (error) { toast(error.message); }
  }
}
