// Making elements. Text always goes in as text: names, EXIF and notes come from anyone.

const SVG = 'http://www.w3.org/2000/svg';

/**
 * @param {Element} element
 * @param {Record<string, any>} attributes  `on…` are listeners, `text` is text, null and false are left out.
 * @param {(Node|string|null|undefined|false)[]} children
 */
function fill(element, attributes, children) {
  for (const [name, value] of Object.entries(attributes)) {
    if (value === null || value === undefined || value === false) continue;
    if (name.startsWith('on')) element.addEventListener(name.slice(2), value);
    else if (name === 'text') element.textContent = value;
    else element.setAttribute(name, value === true ? '' : String(value));
  }
  for (const child of children) if (child) element.append(child);
  return element;
}

/** An HTML element. @returns {any} */
export function h(tag, attributes = {}, ...children) {
  return fill(document.createElement(tag), attributes, children);
}

/** An SVG element. @returns {any} */
export function s(tag, attributes = {}, ...children) {
  return fill(document.createElementNS(SVG, tag), attributes, children);
}

/** Gives an element that is there already other attributes. @param {Element} element @param {Record<string, string|number>} attributes */
export function put(element, attributes) {
  for (const [name, value] of Object.entries(attributes)) element.setAttribute(name, String(value));
}

/** Notes for whoever measures it how long an input took to be on the screen; called in the frame that draws it. @param {string} name @param {number} since  the event's timeStamp */
export function pace(name, since) {
  const painted = new MessageChannel();
  painted.port1.onmessage = () => {
    if (performance.getEntriesByName(name).length >= 500) performance.clearMeasures(name);
    performance.measure(name, { start: since, end: performance.now() });
    painted.port1.close();
  };
  painted.port2.postMessage(null);
}

/** Says something that goes away again, with at most one thing to do about it. */
export function toast(text, action = null) {
  const place = /** @type {HTMLElement} */ (document.getElementById('toast'));
  place.replaceChildren(h('span', { text }));
  if (action) place.append(h('button', { type: 'button', text: action.text, onclick: () => { hide(); action.run(); } }));
  place.classList.add('shown');
  clearTimeout(toast.timer);
  toast.timer = setTimeout(hide, action ? 9000 : 6000);
  function hide() { place.classList.remove('shown'); place.replaceChildren(); }
}
/** @type {number|undefined} */
toast.timer = undefined;
