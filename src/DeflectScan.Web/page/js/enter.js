// The door for phones of the same network: the code from the QR code's address, or typed, becomes a cookie.

const form = /** @type {HTMLFormElement} */ (document.getElementById('enter'));
const code = /** @type {HTMLInputElement} */ (document.getElementById('code'));
const says = /** @type {HTMLElement} */ (document.getElementById('says'));

async function enter() {
  says.textContent = 'Coming in…';
  try {
    const answer = await fetch('/api/enter', { method: 'POST', headers: { 'Content-Type': 'application/json' }, body: JSON.stringify({ code: code.value.trim() }) });
    if (answer.ok) location.replace('/');
    else says.textContent = (await answer.json()).sentence;
  } catch {
    says.textContent = 'The machine does not answer: is it on the same network?';
  }
}

form.addEventListener('submit', event => { event.preventDefault(); enter(); });
const scanned = location.hash.slice(1);
if (scanned) {
  history.replaceState(null, '', '/enter');
  code.value = scanned;
  enter();
}
