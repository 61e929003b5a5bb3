// What the view of other layouts asks of the server.

import { send, withUnits } from '../api.js';

const at = (id, key, what, asked) => `/api/photos/${id}/try/${key}/${what}?${new URLSearchParams(asked)}`;

export const whatIf = (id, key, layout) => send(at(id, key, 'whatif', { layout }), {});
/** @param {string} id @param {string} key @param {'bow'|'gap'} goal @param {number|null} guides  null: the curve alone */
export const spacing = (id, key, goal, guides) => send(at(id, key, 'spacing', { goal, ...(guides === null ? {} : { guides: String(guides) }) }), {});
export const bend = (id, key, layout) => send(at(id, key, 'bend', { layout }), {});
export const accepted = id => send(`/api/photos/${id}/accepted`, {});
export const accept = (id, of, layout, title) => send(`/api/photos/${id}/accepted`, { method: 'POST', headers: { 'Content-Type': 'application/json' }, body: JSON.stringify({ of, layout, title }) });
export const takeBack = id => send(`/api/photos/${id}/accepted/back`, { method: 'POST' });
/** The address of a layout on paper. @param {'sheet'|'tape'} what */
export const paper = (id, { of, layout, title }, what, size) => withUnits(at(id, of, `${what}.pdf`, { layout, title, paper: size }));
