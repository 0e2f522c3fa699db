/** Before the first season is on the phone: pair with the desk, or take in a file. */
import { DeskSaidNo, pair } from '../log/sending.js';
import { Refused } from '../log/phone-log.js';
import { installHint } from '../page/install.js';
import { button, el, field } from '../page/dom.js';

/** @typedef {import('../app.js').App} App */

/** Words for a bundle that can't be taken in. */
export const REFUSED = { other_file: 'take_other_file', other_season: 'take_other_season', older: 'take_older' };

/** @param {App} app */
export function start(app) {
  const { say } = app;
  return el('section', {}, el('h1', {}, say('start_title')), el('p', {}, say('start_lead')), pairing(app), el('hr'), taking(app), kept(app));
}

/** @param {App} app */
export function pairing(app) {
  const { say, scratch } = app;
  return el('form', { onsubmit: (/** @type {Event} */ e) => { e.preventDefault(); enter(app); } },
    field(say('code'), scratch.code ?? '', t => { scratch.code = t; }, { id: 'code', inputMode: 'numeric', maxLength: 8, autocomplete: 'one-time-code' }),
    field(say('phone_name'), scratch.name ?? app.log.self.name, t => { scratch.name = t; }, { id: 'phone-name', maxLength: 60 }),
    el('button.main', { type: 'submit', id: 'pair' }, say('pair')), el('div', { id: 'seasons', role: 'group', 'aria-label': say('which_season') }));
}

/** @param {App} app @param {string} [season] id of the season, where one was chosen */
async function enter(app, season) {
  const text = (/** @type {string} */ id) => /** @type {HTMLInputElement} */ (document.getElementById(id)).value.trim();
  try {
    const seasons = await pair(app.log, text('code'), text('phone-name') || app.say('a_phone'), season);
    if (seasons.length) { choose(app, seasons); return; }
    await keepSafely(app);
    await app.send();
    if (app.log.bundle) app.go('today');
  } catch (fault) {
    app.tell(fault instanceof DeskSaidNo && fault.why ? fault.why : app.say('no_desk'), true);
  }
}

/** The desk has several seasons: a phone goes with one. @param {App} app @param {{id: string, name: string}[]} seasons the newest first */
function choose(app, seasons) {
  const buttons = seasons.map(s => button(s.name, () => enter(app, s.id)));
  document.getElementById('seasons')?.replaceChildren(el('p', {}, app.say('which_season')), ...buttons);
  buttons[0].focus();
}

/** @param {App} app */
export function taking(app) {
  const { say } = app;
  const input = el('input.unseen', { type: 'file', id: 'take-in', accept: '.json,application/json', onchange: async (/** @type {any} */ e) => {
    const file = e.target.files[0];
    if (!file) return;
    try {
      await app.log.takeIn(JSON.parse(await file.text()));
      await keepSafely(app);
      app.tell(say('taken_in'));
      app.go('today');
    } catch (fault) {
      app.tell(say(fault instanceof Refused ? REFUSED[fault.why] : fault instanceof SyntaxError ? 'take_other_file' : 'not_written'), true);
    }
  } });
  return el('div', {}, el('h2', {}, say('take_in_title')), el('p', {}, say('take_in_lead')), el('label.button', { for: 'take-in', tabIndex: -1 }, say('take_in')), input);
}

/** Asks the browser to keep what is here. @param {App} app */
export async function keepSafely(app) {
  if (navigator.storage?.persist) app.settings.kept = await navigator.storage.persist();
}

/** @param {App} app */
export function kept(app) {
  const { say, settings } = app;
  return el('div', {}, el('p', { id: 'kept' }, say('kept', { yes_or_no: say(settings.kept ? 'yes' : 'no') }), ' ', settings.kept ? null : say('not_kept_hint')),
    settings.kept ? null : button(say('ask_to_keep'), async () => { await keepSafely(app); app.draw(); }, { id: 'ask-to-keep' }), installHint(app));
}
