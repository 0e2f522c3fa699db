/** The app on the home screen: it opens without an address, and phones keep what it holds. */
import { button, el } from './dom.js';

/** The browser's own question, kept until somebody asks for it. @type {any} */ let question = null;

/** @param {() => void} changed called when the browser can ask, or has asked */
export function watchInstall(changed) {
  addEventListener('beforeinstallprompt', e => {
    e.preventDefault();
    question = e;
    changed();
  });
  addEventListener('appinstalled', () => {
    question = null;
    changed();
  });
}

/** What to do here to get it there; nothing where it is there already. @param {import('../app.js').App} app */
export function installHint({ say }) {
  if (matchMedia('(display-mode: standalone)').matches || /** @type {any} */ (navigator).standalone) return null;
  const ask = async () => {
    await question.prompt();
    question = null;
  };
  if (question) return el('div', {}, el('p', {}, say('install_why')), button(say('install'), ask, { id: 'install' }));
  const isApple = /** @type {any} */ (navigator).standalone === false;
  return el('p.small', { id: 'install-hint' }, say(isApple ? 'install_apple' : 'install_menu'));
}
