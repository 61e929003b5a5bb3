// What the page asks of its own server, and nothing else.

import { settings } from './settings.js';

/** A refusal by the server: its message is one sentence for the person. */
export class Refused extends Error {}

async function answer(response) {
  if (response.ok) return response.json();
  let sentence = 'The server did not understand; load the page anew.';
  try { sentence = (await response.json()).sentence ?? sentence; } catch { /* not JSON: the sentence above stands */ }
  throw new Refused(sentence);
}

/** The path with the page's units. */
export const withUnits = path => `${path}${path.includes('?') ? '&' : '?'}units=${settings.units}`;

export async function send(path, init) {
  let response;
  try {
    response = await fetch(withUnits(path), init);
  } catch {
    throw new Refused('The server does not answer: is deflectscan serve still running?');
  }
  return answer(response);
}

export const about = () => send('/api/about', {});
export const invitation = () => send('/api/invitation', {});
export const watched = () => send('/api/watch', {});
export const photos = () => send('/api/photos', {});
export const photo = id => send(`/api/photos/${id}`, {});
export const measurement = (id, key) => send(`/api/photos/${id}/measurement/${key}.json`, {});
export const planeMap = (id, key) => send(`/api/photos/${id}/map/${key}.json`, {});
/** @param {string} id @param {'cancel'|'measure'|'aside'|'back'|'undo'|'redo'} what */
export const tell = (id, what) => send(`/api/photos/${id}/${what}`, { method: 'POST' });
export const correct = (id, correction) => send(`/api/photos/${id}/corrections`, {
  method: 'POST', headers: { 'Content-Type': 'application/json' }, body: JSON.stringify(correction),
});

/** Sends a photo; the promise is kept when its bytes lie on the server's disk. @param {File} file */
export function upload(file) {
  return send(`/api/photos?name=${encodeURIComponent(file.name)}`, {
    method: 'POST', headers: { 'Content-Type': 'application/octet-stream' }, body: file,
  });
}

/**
 * Tells every change of a photo, and of what else there is to tell: `archive` when builds have changed, `watch` of the watched folder.
 * @param {(photo: any) => void} changed @param {() => void} back  after the connection was lost @param {Record<string, () => void>} [also]
 */
export function listen(changed, back, also = {}) {
  let lost = false;
  const source = new EventSource(withUnits('/api/events'));
  source.addEventListener('photo', event => changed(JSON.parse(event.data)));
  for (const [name, tell] of Object.entries(also)) source.addEventListener(name, () => tell());
  source.addEventListener('error', () => { lost = true; });
  source.addEventListener('open', () => { if (lost) { lost = false; back(); } });
  return () => source.close();
}
