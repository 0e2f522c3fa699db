/** A lost nest: what ended it, then what lies there, sign by sign in pictures and plain words. */
import { cautions, chips, counter, el, field, photo, button } from './parts.js';
import { picture } from '../page/dom.js';
import { value } from '../log/overlay.js';
import { inWords } from '../page/words.js';
import { visitToday } from '../page/season.js';
import { next, visitFields } from './check.js';

/** @typedef {import('../app.js').App} App @typedef {import('../log/types.js').Row} Row */

/** @param {App} app @param {string} id */
export function lost(app, id) {
  const { log, say } = app, nest = log.rows.get(id);
  if (!nest) return el('section', {}, el('p', {}, say('no_such_nest')));
  const visit = visitToday(log, nest, app.today);
  return el('section', {}, el('h1', {}, say('station_lost', { name: value(nest, 'transect'), number: value(nest, 'nest') })), cause(app, nest, visit), visit && value(visit, 'finding') !== 'intact' ? remains(app, nest, visit) : null, cautions(app, 'remains'));
}

/** @param {App} app @param {Row} nest @param {Row|undefined} visit */
function cause(app, nest, visit) {
  const { log, say } = app, finding = value(visit, 'finding');
  const write = (/** @type {string} */ f, /** @type {string} */ c) => app.touch([visit ? { kind: 'visits', record: visit.id, fields: { finding: f, ...(c || value(visit, 'cause') ? { cause: c } : {}) } } : { kind: 'visits', fields: visitFields(app, nest, f, c ? { cause: c } : {}) }]);
  const causes = log.bundle.phrases.other_loss_causes.map((/** @type {any} */ c) => ({ value: c.token, name: inWords(c.name, app.language) }));
  return el('div', {}, el('p', {}, say('what_happened')), button(say('taken'), () => write('depredated', ''), { id: 'taken', look: 'big', 'aria-pressed': finding === 'depredated' }),
    chips(say('something_else'), causes, finding === 'other_loss' ? value(visit, 'cause') : '', v => write('other_loss', v), 'cause'));
}

/** @param {App} app @param {Row} nest @param {Row} visit */
function remains(app, nest, visit) {
  const { log, say } = app, write = (/** @type {Record<string, string>} */ fields) => app.touch([{ kind: 'visits', record: visit.id, fields }]);
  return el('div', {}, el('h2', {}, say('what_lies_there')), counter(app, say('eggs_left'), value(visit, 'eggs_left'), t => write({ eggs_left: t }), { id: 'eggs-left' }),
    log.bundle.signs.map((/** @type {any} */ s) => sign(app, nest, visit, s)),
    photo(app, visit, photos => ({ kind: 'visits', record: visit.id, fields: { photos } }), { transect: value(nest, 'transect'), nest: value(nest, 'nest') }),
    field(say('note'), value(visit, 'note'), t => write({ note: t }), { id: 'note' }),
    el('div.bar', {}, button(say('next_nest'), () => next(app, nest), { look: 'main.big', id: 'next-nest' })));
}

/** @param {App} app @param {Row} nest @param {Row} visit @param {any} sign */
function sign(app, nest, visit, sign) {
  const { log } = app, on = value(visit, 'visited_on'), transect = value(nest, 'transect'), number = value(nest, 'nest');
  const row = log.all('remains').find(r => value(r, 'transect') === transect && value(r, 'nest') === number && value(r, 'visited_on') === on && value(r, 'sign') === sign.sign), chosen = value(row, 'value');
  const write = (/** @type {string} */ v) => app.touch([row ? { kind: 'remains', record: row.id, fields: { value: v } } : { kind: 'remains', fields: { transect, nest: number, visited_on: on, sign: sign.sign, value: v, observer: app.walker } }]);
  const name = inWords(sign.name, app.language), look = inWords(sign.look, app.language);
  if (sign.kind === 'number') return el('div.sign', {}, counter(app, name, chosen, write, { id: 'sign-' + sign.sign }), el('p.small', {}, look));
  return el('fieldset.sign', {}, el('legend', {}, name), el('p.small', {}, look), el('div.pictures', {}, sign.values.map((/** @type {any} */ v, /** @type {number} */ i) =>
    el('button', { type: 'button', id: `sign-${sign.sign}-${i}`, 'aria-pressed': v.value === chosen, onclick: () => write(v.value) }, v.picture ? picture(v.picture) : null, el('span', {}, inWords(v.name, app.language))))));
}
