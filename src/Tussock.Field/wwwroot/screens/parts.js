/** Pieces that several screens use. */
import { button, chips, el, field } from '../page/dom.js';
import { inWords } from '../page/words.js';
import { people } from '../page/season.js';
import { value } from '../log/overlay.js';

/** @typedef {import('../app.js').App} App @typedef {import('../log/types.js').Row} Row */

/** Cautions of an act, where it happens. @param {App} app @param {...string} where */
export function cautions(app, ...where) {
  const all = app.log.bundle.cautions.filter((/** @type {any} */ c) => where.includes(c.where));
  if (!all.length) return null;
  const texts = [...new Set(all.map((/** @type {any} */ c) => inWords(c.text, app.language)))];
  return el('div.cautions', { role: 'note', 'aria-label': app.say('cautions') }, el('ul', {}, texts.map(t => el('li', {}, t))));
}

/** Who walks and who writes: set once. @param {App} app */
export function crew(app) {
  const { say } = app, choices = people(app.log);
  return el('div.pair', {}, field(say('walker'), app.walker, t => app.set('walker', t), { id: 'walker', choices }),
    field(say('recorder'), app.settings.recorder ?? '', t => app.set('recorder', t), { id: 'recorder', choices }));
}

/** Adds a photo to a record; the bytes go in with the same touch. @param {App} app @param {Row|undefined} row @param {(photos: string, hash: string) => import('../log/types.js').Said} said @param {{ transect: string, nest: string }} where */
export function photo(app, row, said, where) {
  const { say } = app, photos = value(row, 'photos').split(' ').filter(Boolean);
  const input = el('input.unseen', { type: 'file', id: 'photo', accept: 'image/*', capture: 'environment', onchange: async (/** @type {any} */ e) => {
    const file = e.target.files[0];
    if (!file) return;
    if (file.size > app.log.bundle.limits.media_bytes) return app.tell(say('photo_too_big'), true);
    const medium = await app.log.medium(file);
    await app.touch([said([...photos, medium.sha256].join(' '), medium.sha256), { kind: 'media', fields: { media: medium.sha256, type: medium.type, transect: where.transect, nest: where.nest } }], [medium]);
  } });
  return el('div.photo', {}, el('label.button', { for: 'photo' }, say('photo')), input, el('span', {}, say('photos', { count: photos.length })));
}

/** Tappable landmarks that are added to a text, and taken out again. @param {App} app @param {string} text @param {(text: string) => void} take */
export function landmarks(app, text, take) {
  const parts = text.split('; ').filter(Boolean);
  const phrases = app.log.bundle.phrases.landmarks.map((/** @type {any} */ p) => inWords(p, app.language));
  return el('fieldset.chips', {}, el('legend', {}, app.say('landmarks')), el('div.row', {}, phrases.map((/** @type {string} */ p, /** @type {number} */ i) =>
    button(p, () => take((parts.includes(p) ? parts.filter(x => x !== p) : [...parts, p]).join('; ')), { id: 'landmark-' + i, 'aria-pressed': parts.includes(p) }))),
    field(app.say('landmarks_more'), text, take, { id: 'landmarks' }));
}

/** A number with − and +. @param {App} app @param {string} label @param {string} text @param {(text: string) => void} take @param {{ id: string, step?: number }} how */
export function counter(app, label, text, take, { id, step = 1 }) {
  const add = (/** @type {number} */ by) => {
    const input = /** @type {HTMLInputElement} */ (document.getElementById(id));
    input.value = String(Math.max(0, (Number(input.value) || 0) + by));
    take(input.value);
  };
  return el('div.counter', {}, button('−', () => add(-step), { 'aria-label': app.say('one_less', { what: label }), id: id + '-less' }),
    field(label, text, t => { if (t === '' || Number(t) >= 0) take(t); else app.tell(app.say('not_a_number'), true); }, { id, inputMode: 'decimal' }),
    button('+', () => add(step), { 'aria-label': app.say('one_more', { what: label }), id: id + '-more' }));
}

export { button, chips, el, field };
