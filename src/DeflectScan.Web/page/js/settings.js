// What a person chose for this browser: units and theme. Kept in the browser alone.

import { h } from './dom.js';

export const settings = {
  /** @type {'mm'|'in'} */
  units: read('units', ['mm', 'in']) ?? 'mm',
  /** @type {'auto'|'light'|'dark'} */
  theme: read('theme', ['auto', 'light', 'dark']) ?? 'auto',
  /** @type {'usual'|'large'} */
  type: read('type', ['usual', 'large']) ?? 'usual',
};

function read(name, allowed) {
  try {
    const value = localStorage.getItem(`deflectscan.${name}`);
    return allowed.includes(value) ? /** @type {any} */ (value) : null;
  } catch {
    return null;
  }
}

function keep(name, value) {
  settings[name] = value;
  try { localStorage.setItem(`deflectscan.${name}`, value); } catch { /* private browsing: it holds until the page is closed */ }
}

export function isChosen(name) {
  return read(name, ['mm', 'in', 'light', 'dark', 'auto', 'usual', 'large']) !== null;
}

export function useUnits(units) { settings.units = units; }

export function applyTheme() {
  if (settings.theme === 'auto') delete document.documentElement.dataset.theme;
  else document.documentElement.dataset.theme = settings.theme;
  document.documentElement.dataset.type = settings.type;
}

/** The button and its few choices. @param {() => void} changed */
export function settingsButton(changed) {
  const panel = h('div', { class: 'settings-panel', id: 'settings-panel', hidden: true, role: 'group', 'aria-label': 'Settings' },
    choice('Units', 'units', [['mm', 'mm'], ['in', 'inches']]),
    choice('Theme', 'theme', [['auto', 'as the device'], ['light', 'light'], ['dark', 'dark']]),
    choice('Type', 'type', [['usual', 'usual'], ['large', 'large, for a projector']]));
  const button = h('button', {
    type: 'button', text: 'Settings', 'aria-expanded': 'false', 'aria-controls': 'settings-panel',
    onclick: () => show(panel.hidden),
  });
  const place = h('div', { class: 'settings', id: 'settings' }, button, panel);
  place.addEventListener('keydown', event => { if (event.key === 'Escape' && !panel.hidden) { show(false); button.focus(); } });
  document.addEventListener('pointerdown', event => { if (!place.contains(/** @type {Node} */ (event.target))) show(false); });
  return place;

  function show(open) {
    panel.hidden = !open;
    button.setAttribute('aria-expanded', String(open));
  }

  function choice(title, name, options) {
    return h('fieldset', {}, h('legend', { text: title }), ...options.map(([value, text]) =>
      h('label', { class: 'choice' }, h('input', {
        type: 'radio', name, value, checked: settings[name] === value,
        onchange: () => { keep(name, value); changed(); },
      }), text)));
  }
}
