// The bench: taking photos in, and the list of those that are there.

import * as api from './api.js';
import { h, toast } from './dom.js';
import { SEEN } from './seen.js';
import { seriesList } from './follow/series-list.js';

const CAUTION = 'A loaded rod can break or let go: eye protection on, stay out of the cord’s line, load it no further than its maker’s rating and the tip no '
  + 'further than 90 degrees to the butt.';

/** @param {HTMLElement} main @param {(address: string) => void} go @returns {() => void} */
export function benchPage(main, go) {
  document.title = 'Bench · DeflectScan';
  /** @type {Map<string, {item: HTMLElement, version: number}>} */
  const rows = new Map();
  const list = h('ul', { class: 'photos', 'aria-label': 'Photos' });
  const empty = h('div', { class: 'empty', hidden: true }, sketch(), h('p', { text: 'Stand two scale cards beside the rod, tie the tip off, and take the first photo from straight in front.' }));
  const sending = h('p', { class: 'quiet sending', role: 'status' });

  const phone = h('div'), watching = h('section', { class: 'watching', 'aria-label': 'Watched folder', hidden: true }), seriesPlace = h('div'), series = seriesList(seriesPlace);
  const take = picker('Take a photo', { capture: 'environment' }, 'primary camera');
  const choose = picker('Choose photos', { multiple: true }, 'choose');
  main.replaceChildren(
    h('h1', { class: 'visually-hidden', text: 'Bench' }),
    h('p', { class: 'caution', role: 'note' }, h('strong', { text: 'Take care. ' }), CAUTION),
    h('div', { class: 'take' }, take, choose, h('p', { class: 'quiet wide-only', text: 'or drop them anywhere on this page, or paste one' })),
    phone, watching, sending, empty, seriesPlace, list);

  offerPhone(phone);
  const stop = api.listen(update, reload, { watch });
  const drop = event => { event.preventDefault(); main.classList.remove('dropping'); send([...event.dataTransfer.files]); };
  const over = event => { event.preventDefault(); main.classList.add('dropping'); };
  const out = event => { if (!event.relatedTarget) main.classList.remove('dropping'); };
  const paste = event => send([...event.clipboardData.files]);
  document.addEventListener('dragover', over);
  document.addEventListener('dragleave', out);
  document.addEventListener('drop', drop);
  document.addEventListener('paste', paste);
  reload();
  return () => {
    stop();
    document.removeEventListener('dragover', over);
    document.removeEventListener('dragleave', out);
    document.removeEventListener('drop', drop);
    document.removeEventListener('paste', paste);
  };

  function picker(text, attributes, kind) {
    const input = h('input', { type: 'file', accept: 'image/jpeg,image/png,image/webp,image/heic,image/heif,.heic', ...attributes, class: 'visually-hidden' });
    input.addEventListener('change', () => { send([...input.files]); input.value = ''; });
    return h('label', { class: `button ${kind}` }, input, text);
  }

  async function send(files) {
    let last = null;
    for (const [i, file] of files.entries()) {
      sending.textContent = files.length > 1 ? `Sending ${i + 1} of ${files.length}: ${file.name}` : `Sending ${file.name}`;
      try {
        last = await api.upload(file);
        update(last);
      } catch (error) {
        toast(`${file.name}: ${error.message}`);
      }
    }
    sending.textContent = '';
    if (files.length === 1 && last) go(`/photo/${last.id}`);
  }

  async function reload() {
    try {
      const all = await api.photos();
      rows.clear();
      list.replaceChildren();
      for (const photo of all.reverse()) update(photo);
      empty.hidden = rows.size > 0;
      series.refresh();
      watch();
    } catch (error) {
      toast(error.message);
    }
  }

  /** The folder whose photos come in by themselves, and what in it was not taken in. */
  async function watch() {
    try {
      const { folder, problem, refused } = await api.watched();
      watching.hidden = !folder;
      watching.replaceChildren(...[h('p', {}, 'Photos that come into ', h('strong', { text: folder ?? '' }), ' are taken in by themselves.'), problem && h('p', { class: 'status refused', role: 'status', text: problem }),
        refused.length > 0 && h('ul', { 'aria-label': 'Not taken in' }, ...refused.map(r => h('li', {}, h('strong', { text: `${r.name}: ` }), r.reason)))].filter(Boolean));
    } catch (error) {
      toast(error.message);
    }
  }

  function update(photo) {
    const known = rows.get(photo.id);
    if (known && known.version > photo.version) return;
    if (known && (photo.stage === 'done' || photo.isAside)) series.refresh();
    if (photo.isAside) {
      known?.item.remove();
      rows.delete(photo.id);
      empty.hidden = rows.size > 0;
      return;
    }
    const item = row(photo);
    if (known) known.item.replaceWith(item); else list.prepend(item);
    rows.set(photo.id, { item, version: photo.version });
    empty.hidden = true;
  }

  function row(photo) {
    const busy = photo.stage === 'waiting' || photo.stage === 'measuring';
    const state = busy ? photo.doing : photo.headline?.status ?? (photo.stage === 'cancelled' ? 'Cancelled' : 'Not measured');
    const says = busy ? checkLine(photo) : photo.headline?.answer ?? photo.doing;
    return h('li', { class: `photo-row ${busy ? 'busy' : photo.status ?? ''}` },
      h('a', { href: `/photo/${photo.id}`, 'data-view': true },
        photo.widthPx ? h('img', { src: `/api/photos/${photo.id}/overview.jpg`, alt: '', loading: 'lazy' }) : h('span', { class: 'no-picture' }),
        h('span', { class: 'words' },
          h('span', { class: 'state', text: state }),
          h('span', { class: 'says', text: says }),
          h('span', { class: 'quiet name', text: photo.name }))),
      busy
        ? h('button', { type: 'button', text: 'Cancel', 'aria-label': `Cancel measuring ${photo.name}`, onclick: () => act(photo, 'cancel') })
        : h('button', { type: 'button', text: 'Set aside', 'aria-label': `Set aside: ${photo.name}`, onclick: () => aside(photo) }));
  }

  function checkLine(photo) {
    const check = photo.check;
    if (!check) return '';
    return check.toDo.length === 0 ? SEEN[check.reach] : check.toDo[0].do || check.toDo[0].seen;
  }

  async function act(photo, what) {
    try { update(await api.tell(photo.id, what)); } catch (error) { toast(error.message); }
  }

  async function aside(photo) {
    try {
      update(await api.tell(photo.id, 'aside'));
      toast(`${photo.name} is set aside.`, { text: 'Undo', run: () => act(photo, 'back') });
    } catch (error) {
      toast(error.message);
    }
  }
}

/** With --lan: the next phone's code, shown on demand, at the machine itself alone. */
async function offerPhone(place) {
  try {
    if (!(await api.about()).isForPhones) return;
    const panel = h('div', { class: 'phone-panel', hidden: true });
    const button = h('button', { type: 'button', text: 'A phone', 'aria-expanded': 'false', onclick: show });
    place.append(button, panel);
    async function show() {
      if (panel.hidden) {
        const { address, code } = await api.invitation();
        panel.replaceChildren(h('p', { text: 'Scan this with a phone of the same network. It lets one phone in; open this again for the next.' }),
          h('img', { src: `/api/invitation.png?${code}`, alt: `QR code of ${address}enter` }), h('p', {}, `${address}enter `, h('strong', { text: code })));
      }
      panel.hidden = !panel.hidden;
      button.setAttribute('aria-expanded', String(!panel.hidden));
    }
  } catch (error) {
    toast(error.message);
  }
}

/** A rod, its line and two cards: what the first photo should show. */
function sketch() {
  const svg = document.createElementNS('http://www.w3.org/2000/svg', 'svg');
  svg.setAttribute('viewBox', '0 0 320 170');
  svg.setAttribute('aria-hidden', 'true');
  svg.setAttribute('class', 'sketch');
  const add = (tag, attributes) => {
    const e = document.createElementNS('http://www.w3.org/2000/svg', tag);
    for (const [k, v] of Object.entries(attributes)) e.setAttribute(k, v);
    svg.append(e);
  };
  for (const x of [70, 205]) {
    add('rect', { x, y: 96, width: 44, height: 58, class: 'card' });
    for (let i = 0; i < 12; i++) if ((i % 4 + Math.floor(i / 4)) % 2 === 0) add('rect', { x: x + 4 + (i % 4) * 9, y: 102 + Math.floor(i / 4) * 9, width: 9, height: 9, class: 'square' });
  }
  add('path', { d: 'M14 150 C 60 80 140 26 240 34 C 272 37 292 54 300 78', class: 'rod' });
  add('path', { d: 'M40 128 L 92 84 L 150 54 L 206 44 L 256 47 L 288 66 L 296 80', class: 'line' });
  for (const [x, y] of [[92, 84], [150, 54], [206, 44], [256, 47], [288, 66]]) add('circle', { cx: x, cy: y, r: 4, class: 'ring' });
  return svg;
}
