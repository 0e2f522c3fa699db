/** What is on this phone only, how it gets to the desk, and what was written here. */
import { button, chips, el } from './parts.js';
import { fileName } from '../log/file.js';
import { value } from '../log/overlay.js';
import { plain } from '../page/season.js';
import { kept, pairing, taking } from './start.js';

/** @typedef {import('../app.js').App} App @typedef {import('../log/types.js').Entry} Entry */

const KINDS = /** @type {Record<string, string>} */ ({ nests: 'kind_nest', visits: 'kind_visit', remains: 'kind_remains', belts: 'kind_belt', crew: 'kind_crew', transects: 'kind_line', chance: 'kind_chance', media: 'kind_photo' });

/** @param {App} app */
export function phone(app) {
  const { log, say } = app, { changes, refused, photos } = log.unsent();
  return el('section', {}, el('h1', {}, say('phone_title')),
    el('p.lead', { id: 'unsent' }, changes + photos ? say('unsent', { changes, photos }) : say('nothing_unsent')),
    refused ? el('div.grave', {}, el('p', {}, say('refused', { count: refused })), el('ul', {}, [...new Set(log.outbox.filter(e => e.state === 'refused').map(e => e.why))].map(w => el('li', {}, w)))) : null,
    el('div.row', {}, log.self.key ? button(say(app.isSending ? 'sending' : 'send_now'), () => app.send(), { id: 'send-now', look: 'main', disabled: app.isSending }) : null, button(say('save_copy'), () => save(app), { id: 'save-copy' })),
    kept(app), languages(app), el('h2', {}, say('history')), history(app), el('details', {}, el('summary', {}, say('take_in_title')), taking(app)), el('details', {}, el('summary', {}, say('pair_again')), pairing(app)));
}

/** Each language by its own name: whoever reads only one finds it. @param {App} app */
function languages(app) {
  const known = Object.keys(app.log.bundle.words);
  if (known.length < 2) return null;
  const name = (/** @type {string} */ l) => new Intl.DisplayNames([l], { type: 'language' }).of(l) ?? l;
  return chips(app.say('language'), known.map(l => ({ value: l, name: name(l) })), app.language, l => app.set('language', l), 'language');
}

/** @param {App} app */
export async function save(app) {
  const name = fileName(app.log.self.name, app.today), blob = await app.log.copy(), file = new File([blob], name, { type: 'text/plain' });
  if (matchMedia('(pointer: coarse)').matches && navigator.canShare?.({ files: [file] })) {
    try { return await navigator.share({ files: [file] }); } catch (fault) { if (/** @type {any} */ (fault).name === 'AbortError') return; }
  }
  const address = URL.createObjectURL(blob), link = el('a', { href: address, download: name });
  document.body.append(link);
  link.click();
  link.remove();
  setTimeout(() => URL.revokeObjectURL(address), 60000);
  app.tell(app.say('saved', { name }));
}

/** @param {App} app */
function history(app) {
  const { log, say } = app, touches = log.history(), undone = app.undone();
  if (!touches.length) return el('p', {}, say('no_history'));
  return el('ol.history', {}, touches.map(({ batch, entries }) => el('li', {}, el('span', {}, new Date(entries[0].change.said_at).toLocaleTimeString(app.language, { hour: '2-digit', minute: '2-digit' }), ' ', [...new Set(entries.map(e => told(app, e)))].join(' · ')),
    log.canUndo(batch) && !undone.has(batch) ? button(say('undo'), () => app.undoBatch(batch), { id: 'undo-' + batch, 'aria-label': say('undo_that', { what: told(app, entries[0]) }) }) : undone.has(batch) ? el('small', {}, say('taken_back')) : null)));
}

/** A change in a few words. @param {App} app @param {Entry} entry */
export function told(app, { change }) {
  const row = app.log.rows.get(change.record), where = [value(row, 'transect'), value(row, 'nest') || value(row, 'segment')].filter(Boolean).join('-');
  const what = Object.entries(change.fields).filter(([f]) => !['transect', 'nest', 'segment', 'media', 'photos', 'type'].includes(f)).slice(0, 3).map(([f, v]) => f === '#void' ? app.say('taken_back') : `${plain(f)}: ${plain(v.value || '–')}`).join(', ');
  return [app.say(KINDS[change.kind] ?? 'kind_other'), where, what].filter(Boolean).join(' ');
}
