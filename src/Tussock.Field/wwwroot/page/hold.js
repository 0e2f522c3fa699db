/** A button that acts only when it is held for half a second, by finger or by key; other ways of pressing ask twice. */
import { el } from './dom.js';

const HOLD_MS = 500, AGAIN_MS = 4000;

/** @param {string} label @param {{ hint: string, again: string }} words @param {() => void} act @param {Record<string, any>} [how] */
export function hold(label, words, act, { look = '', ...how } = {}) {
  /** @type {any} */ let timer = 0;
  let armed = 0;
  const hint = el('small', { 'aria-hidden': 'true' }, words.hint);
  const start = () => {
    stop();
    made.classList.add('holding');
    timer = setTimeout(() => { stop(); navigator.vibrate?.(60); act(); }, HOLD_MS);
  };
  const stop = () => { clearTimeout(timer); timer = 0; made.classList.remove('holding'); };
  const key = (/** @type {KeyboardEvent} */ e) => e.key === 'Enter' || e.key === ' ';
  const made = el('button.hold' + (look ? '.' + look : ''), {
    type: 'button', 'aria-description': words.hint, ...how,
    onpointerdown: start, onpointerup: stop, onpointerleave: stop, onpointercancel: stop,
    oncontextmenu: (/** @type {Event} */ e) => e.preventDefault(),
    onkeydown: (/** @type {KeyboardEvent} */ e) => { if (key(e)) { e.preventDefault(); if (!e.repeat) start(); } },
    onkeyup: (/** @type {KeyboardEvent} */ e) => { if (key(e)) { e.preventDefault(); stop(); } },
    // A screen reader presses without pointer and key.
    onclick: (/** @type {MouseEvent} */ e) => {
      if (e.detail !== 0) return;
      if (Date.now() - armed < AGAIN_MS) act();
      else { armed = Date.now(); hint.textContent = words.again; made.setAttribute('aria-description', words.again); }
    } }, el('span', {}, label), hint);
  return made;
}
