// What the views of series and builds ask of the server; refusals as in api.js.

import { Refused } from '../api.js';
import { settings } from '../settings.js';

async function send(path, init) {
  let response;
  try {
    response = await fetch(`${path}${path.includes('?') ? '&' : '?'}units=${settings.units}`, init);
  } catch {
    throw new Refused('The server does not answer: is deflectscan serve still running?');
  }
  if (response.ok) return response.json();
  let sentence = 'The server did not understand; load the page anew.';
  try { sentence = (await response.json()).sentence ?? sentence; } catch { /* not JSON: the sentence above stands */ }
  throw new Refused(sentence);
}

export const ask = path => send(path, {});
export const tellJson = (path, body) => send(path, { method: 'POST', headers: { 'Content-Type': 'application/json' }, body: JSON.stringify(body) });
export const sendFile = (path, file) => send(path, { method: 'POST', headers: { 'Content-Type': 'application/octet-stream' }, body: file });

/** A query of what is not empty. */
export const query = values => new URLSearchParams(Object.entries(values).filter(([, v]) => v !== null && v !== undefined && v !== '').map(([k, v]) => [k, String(v)])).toString();
