/** A nest that can't be found: step by step what to try, and what was tried when it still is not found. */
import { button, chips, el, counter } from './parts.js';
import { value } from '../log/overlay.js';
import { inWords } from '../page/words.js';
import { visitFields, next } from './check.js';
import { visitToday } from '../page/season.js';
import { wayBack } from './line.js';

const STEPS = ['try_flag', 'try_way', 'try_other', 'try_around', 'try_washer', 'try_line'];

/** @param {import('../app.js').App} app @param {string} id */
export function search(app, id) {
  const { log, say, scratch } = app, nest = log.rows.get(id);
  if (!nest) return el('section', {}, el('p', {}, say('no_such_nest')));
  scratch.since ??= Date.now();
  /** @type {Set<string>} */ const tried = scratch.tried ??= new Set();
  const minutes = scratch.minutes ?? String(Math.max(1, Math.round((Date.now() - scratch.since) / 60000)));
  const tick = (/** @type {string} */ t) => { if (tried.has(t)) tried.delete(t); else tried.add(t); app.draw(); };
  const stillNot = async () => {
    const note = [...tried].map(t => say(t)).join(' ');
    const fields = { finding: 'not_relocated', search_minutes: minutes, ...(scratch.because ? { not_found_because: scratch.because } : {}), ...(note ? { note } : {}) };
    const visit = visitToday(log, nest, app.today);
    if (await app.touch([visit ? { kind: 'visits', record: visit.id, fields } : { kind: 'visits', fields: visitFields(app, nest, 'not_relocated', fields) }])) next(app, nest);
  };
  return el('section', {}, el('h1', {}, say('search_title', { name: value(nest, 'transect'), number: value(nest, 'nest') })), el('p.lead', {}, wayBack(app, nest).words),
    el('ol.steps', {}, STEPS.map(t => el('li', {}, button(say(t), () => tick(t), { id: t, 'aria-pressed': tried.has(t) })))),
    chips(say('not_found_why'), log.bundle.phrases.not_found_because.map((/** @type {any} */ b) => ({ value: b.token, name: inWords(b.name, app.language) })), scratch.because ?? '', v => { scratch.because = v; app.draw(); }, 'because'),
    counter(app, say('search_minutes'), minutes, t => { scratch.minutes = t; app.draw(); }, { id: 'minutes' }),
    el('div.bar.two', {}, button(say('still_not_found'), stillNot, { id: 'still-not-found', look: 'cant.big' }), button(say('found_it'), () => app.go('check', id), { id: 'found-it', look: 'main.big' })));
}
