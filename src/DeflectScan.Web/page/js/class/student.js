// A student's phone: coming in with the class's code, taking a photo, the check first, then the own result; earlier tries stay.

import { Refused, send } from '../api.js';
import { boardStrip, ownStrip, scaleOf } from './board-strip.js';
import { h, toast } from '../dom.js';
import { SEEN } from '../seen.js';
import { applyTheme, settings } from '../settings.js';

const CAUTION = 'A loaded rod can break or let go: eye protection on, stay out of the cord’s line. Your instructor’s rules come first.';
const main = /** @type {HTMLElement} */ (document.getElementById('main'));
/** @type {EventSource|null} */
let events = null;
applyTheme();
start();

async function start() {
  try {
    show(await send('/api/mine', {}));
  } catch (error) {
    if (error instanceof Refused) door('');
  }
}

function door(says) {
  const scanned = location.hash.slice(1);
  if (scanned) history.replaceState(null, '', '/class');
  const code = h('input', { id: 'code', autocomplete: 'off', autocapitalize: 'characters', spellcheck: 'false', maxlength: 6, required: true, value: scanned });
  const name = h('input', { id: 'name', class: 'name', autocomplete: 'off', maxlength: 40 });
  const status = h('p', { role: 'status', text: says });
  main.replaceChildren(h('h1', { text: 'Come into the class' }), h('form', { class: 'enter', onsubmit: join },
    h('label', { for: 'code', text: 'The code on the wall' }), code,
    h('label', { for: 'name', text: 'Your name, or nothing for a number' }), name,
    h('p', { class: 'quiet', text: 'Your photos are seen by you and your instructor alone. The place where a photo was taken is removed from it before it is kept.' }),
    h('button', { type: 'submit', class: 'primary', text: 'Come in' }), status));
  (scanned ? name : code).focus();

  async function join(event) {
    event.preventDefault();
    status.textContent = 'Coming in…';
    try {
      show(await send('/api/join', { method: 'POST', headers: { 'Content-Type': 'application/json' }, body: JSON.stringify({ code: code.value.trim(), name: name.value.trim() }) }));
    } catch (error) {
      status.textContent = error.message;
    }
  }
}

function show(mine) {
  document.title = `${mine.class} · DeflectScan`;
  const sheet = h('p', { hidden: true }, h('a', { class: 'button', href: `/api/mine/sheet.pdf?units=${settings.units}`, download: true, text: 'My sheet as PDF' }));
  const tries = h('ol', { class: 'tries', 'aria-label': 'Your photos, the newest first' }), board = h('section', { class: 'student-board', 'aria-label': 'Board', hidden: true });
  const sending = h('p', { class: 'quiet sending', role: 'status' });
  const take = h('div', { class: 'take' }, picker('Take a photo', { capture: 'environment' }, 'primary camera'), picker('Choose a photo', {}, 'choose'));
  main.replaceChildren(h('h1', { text: mine.class }), h('p', { class: 'who' }, 'You are ', h('strong', { text: mine.name })),
    h('p', { class: 'caution', role: 'note' }, h('strong', { text: 'Take care. ' }), CAUTION), take, sending, sheet, tries, board);
  draw(mine);
  events?.close();
  events = new EventSource('/api/mine/events');
  events.addEventListener('changed', again);
  events.addEventListener('open', again);

  async function again() {
    try { draw(await send('/api/mine', {})); } catch (error) { if (error.message.startsWith('Scan')) { events?.close(); door(error.message); } }
  }

  function draw(now) {
    take.hidden = !now.open;
    sheet.hidden = !now.tries.some(t => t.stage === 'done');
    tries.replaceChildren(...now.tries.map((t, i) => card(t, now.tries.length - i)));
    if (now.tries.length === 0) tries.replaceChildren(h('li', { class: 'quiet', text: 'Stand the cards beside the rod, tie the tip off, and take the photo from straight in front, the whole bend in it.' }));
    if (now.boardShown) showBoard(board); else board.hidden = true;
  }

  function picker(text, attributes, kind) {
    const input = h('input', { type: 'file', accept: 'image/jpeg,image/png,image/webp', ...attributes, class: 'visually-hidden' });
    input.addEventListener('change', () => { if (input.files[0]) post(input.files[0]); input.value = ''; });
    return h('label', { class: `button ${kind}` }, input, text);
  }

  async function post(file) {
    sending.textContent = 'Sending the photo…';
    try {
      const sent = await send('/api/mine/photos', { method: 'POST', headers: { 'Content-Type': 'application/octet-stream' }, body: file });
      sending.textContent = sent.saidPlace ? 'The photo is kept. The place where it was taken was removed from it first.' : 'The photo is kept.';
      await again();
    } catch (error) {
      sending.textContent = '';
      toast(error.message);
    }
  }
}

/** One try: what the check says, then what was measured. */
function card(t, number) {
  const busy = t.stage === 'waiting' || t.stage === 'measuring';
  const kind = busy ? 'busy' : t.status ?? '';
  return h('li', { class: `try-card ${kind}` },
    h('p', { class: 'quiet', text: `Photo ${number}` }),
    h('p', { class: 'state', text: busy ? (t.check ? t.doing === 'Waiting' ? 'Checked, waiting to be measured' : t.doing : 'Being looked at') : t.says ?? t.doing }),
    t.check && busy && h('p', { class: 'check', text: t.check.toDo.length === 0 ? SEEN[t.check.reach] : t.check.toDo[0] }),
    !busy && t.answer && h('p', { class: 'answer', text: t.answer }),
    t.strip && h('div', { class: 'own-strip' }, ownStrip(t.strip, 'Your blank straightened, the tip on the right')),
    !busy && t.status === 'needs_review' && t.why && t.why !== t.answer && h('p', { text: t.why }),
    ...list('What is good', t.good), ...list('What gains most', t.moves),
    t.status && h('details', {}, h('summary', { text: 'The photo' }), h('img', { src: `/api/mine/photos/${t.id}/photo.jpg`, alt: `Your photo ${number}`, loading: 'lazy' })),
    t.saidPlace && h('p', { class: 'quiet', text: 'The place where it was taken was removed from this photo.' }));
}

function list(title, sentences) {
  return sentences?.length ? [h('h2', { text: title }), h('ul', { class: 'said' }, ...sentences.map(text => h('li', { text })))] : [];
}

async function showBoard(place) {
  try {
    const board = await send('/api/mine/board', {}), scale = scaleOf(board);
    place.hidden = false;
    place.replaceChildren(h('h2', { text: 'The board' }), h('ol', { class: 'board-list' }, ...board.rods.filter(r => r.strip).map(r => h('li', { class: r.own ? 'own' : '' },
      h('p', {}, h('strong', { text: r.own ? `${r.name} (you)` : r.name }), ` bow ${r.bow} ${settings.units}, ${r.guides} guides`),
      boardStrip(r.strip, scale, { label: `The straightened blank of ${r.name}`, targetMm: r.targetMm, reference: board.reference })))),
      h('p', { class: 'quiet', text: scale.words }));
  } catch {
    place.hidden = true;
  }
}
