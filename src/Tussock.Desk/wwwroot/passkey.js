/** Passkeys: asks the desk for a question, the device for its answer, and sends that in as a form. */

const able = window.isSecureContext && typeof PublicKeyCredential === 'function' && 'parseRequestOptionsFromJSON' in PublicKeyCredential;
const Keys = /** @type {any} */ (globalThis.PublicKeyCredential);

/** @param {HTMLFormElement} form @returns {Promise<string>} what went wrong; nothing when the form is on its way */
async function answer(form) {
  const field = (/** @type {string} */ name) => /** @type {HTMLInputElement} */ (form.elements.namedItem(name));
  const asked = await fetch(form.getAttribute('action') + '/ask', { method: 'POST', body: new URLSearchParams(/** @type {any} */ (new FormData(form))), cache: 'no-store' });
  const question = await asked.json();
  if (!asked.ok) return question.why ?? '';
  const credential = form.dataset.passkey === 'create'
    ? await navigator.credentials.create({ publicKey: Keys.parseCreationOptionsFromJSON(question.options) })
    : await navigator.credentials.get({ publicKey: Keys.parseRequestOptionsFromJSON(question.options) });
  field('key').value = question.key;
  field('credential').value = JSON.stringify(/** @type {any} */ (credential).toJSON());
  const former = field('former');
  if (former) former.value = '';
  form.submit();
  return '';
}

for (const form of able ? /** @type {NodeListOf<HTMLFormElement>} */ (document.querySelectorAll('form[data-passkey]')) : []) {
  const told = /** @type {HTMLElement} */ (form.querySelector('[role=alert]')), press = /** @type {HTMLButtonElement} */ (form.querySelector('button'));
  form.hidden = false;
  form.addEventListener('submit', async event => {
    event.preventDefault();
    told.hidden = press.disabled = true;
    // Whoever says no to the device, or waits too long, is told the same as when it fails: browsers don't tell the difference.
    const wrong = await answer(form).catch(() => form.dataset.failed ?? '');
    press.disabled = false;
    told.textContent = wrong;
    told.hidden = !wrong;
  });
}
