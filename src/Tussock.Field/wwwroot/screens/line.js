/** One line: its stations in the order of the walk, and what can be done there. */
import { button, cautions, crew, el } from './parts.js';
import { value } from '../log/overlay.js';
import { inWords, shortDate } from '../page/words.js';
import { declination, due, endedBefore, isSet, nestsOf, ownWay, transect, visitToday } from '../page/season.js';
import { follow } from '../page/sense.js';
import { between, distance } from '../wayback/plane.js';
import { save } from './phone.js';

/** @typedef {import('../app.js').App} App @typedef {import('../log/types.js').Row} Row */

/** @param {App} app @param {string} name */
export function line(app, name) {
  const { log, say } = app, row = transect(log, name);
  if (!row) return el('section', {}, el('h1', {}, say('line', { name })), el('p', {}, say('no_such_line')));
  const all = nestsOf(log, name), open = new Set((due(log, app.today).get(name) ?? []).map(d => d.nest.id)), unsent = log.unsent().changes;
  return el('section', {}, el('h1', {}, say('line', { name })), el('p', {}, value(row, 'property') + ' · ' + value(row, 'pasture')),
    open.size ? el('p.lead', {}, say('due', { count: open.size })) : null,
    all.length ? order(app, all, open) : null,
    el('div.row', {}, button(say('set_out_next'), () => app.go('set-out', name), { id: 'to-set-out', look: open.size ? '' : 'main' }), button(say('tally'), () => app.go('tally', name), { id: 'to-tally' }), button(say('pick_up'), () => app.go('pick-up', name), { id: 'to-pick-up' })),
    app.settings.kept || !unsent ? null : el('div', {}, el('p', {}, say('save_after_line')), button(say('save_copy'), () => save(app), { id: 'save-line' })),
    crew(app), open.size ? cautions(app, 'check') : null);
}

/** Stations from the end where the crew stands; the nearest is a button. @param {App} app @param {Row[]} all @param {Set<string>} open */
function order(app, all, open) {
  const { say } = app, fromEnd = app.settings.from_end === true, walk = fromEnd ? [...all].reverse() : all;
  const first = value(all[0], 'nest'), last = value(all[all.length - 1], 'nest');
  return el('div', {}, el('div.row', { role: 'group', 'aria-label': say('walk_from') },
    button(say('from_flag', { flag: first }), () => app.set('from_end', false), { 'aria-pressed': !fromEnd, id: 'from-first' }),
    button(say('from_flag', { flag: last }), () => app.set('from_end', true), { 'aria-pressed': fromEnd, id: 'from-last' }),
    button(say('nearest'), () => nearest(app, walk.filter(n => open.has(n.id))), { id: 'nearest' })),
    el('ol.stations', {}, walk.map(n => el('li', {}, station(app, n, open.has(n.id))))));
}

/** @param {App} app @param {Row} nest @param {boolean} isDue */
function station(app, nest, isDue) {
  const { log, say } = app, number = value(nest, 'nest'), isThere = isSet(log, nest);
  const again = (log.bundle.searches ?? []).find((/** @type {any} */ s) => s.nest === nest.id && app.today <= s.until);
  const text = value(nest, 'status') === 'no_clump' ? say('no_clump_here') : !isThere ? say(value(nest, 'status') === 'not_set' ? 'begun' : 'not_set_yet') : endedBefore(log, nest, app.today) ? say('over') : visitToday(log, nest, app.today) ? say('seen_today') : isDue ? again ? inWords(again.say, app.language) : say('due_now') : say('set');
  return el('button.card' + (isDue ? '.main' : ''), { type: 'button', id: 'nest-' + number, onclick: () => isThere ? app.go('check', nest.id) : app.go('set-out', value(nest, 'transect'), number) },
    el('strong', {}, say('nest', { number })), el('span', {}, text));
}

/** Opens the due nest whose flag is nearest. @param {App} app @param {Row[]} nests */
function nearest(app, nests) {
  const placed = nests.filter(n => value(n, 'flag_lat') && value(n, 'flag_lon'));
  if (!placed.length) return app.tell(app.say('no_places'));
  app.tell(app.say('looking_for_gps'));
  const stop = follow(here => {
    stop();
    const far = (/** @type {Row} */ n) => distance(between(here, { lat: Number(value(n, 'flag_lat')), lon: Number(value(n, 'flag_lon')) }));
    app.go('check', placed.sort((a, b) => far(a) - far(b))[0].id);
  });
}

/** Words of a way back: the desk's, else the phone's own; `isSure`: one place, and its direction is a true one. @param {App} app @param {Row} nest @returns {{ words: string, why?: string, isSure: boolean, places: { sense: string, text: string, distance: number, bearing: number }[], offer: string[] }} */
export function wayBack(app, nest) {
  const { log, say, language } = app, isTrue = value(nest, 'north') === 'true' || declination(log, value(nest, 'transect')) !== null, told = log.bundle.ways.find((/** @type {any} */ w) => w.nest === nest.id), flag = value(nest, 'nest');
  const isOlder = log.outbox.some(e => e.change.record === nest.id && ['steps', 'direction', 'steps_2', 'direction_2', 'north', 'paced_by'].some(f => f in e.change.fields));
  const sense = value(nest, 'direction_sense'), offer = told?.sense_offer ?? [], left = (told?.places ?? []).filter((/** @type {any} */ p) => !sense || !p.sense || p.sense === sense);
  if (told?.words && !isOlder && left.length) {
    const inOwn = (/** @type {any} */ words) => words[language] ?? words.en;
    return { words: inOwn(left.length < told.places.length ? left[0].words : told.words), why: inOwn(told.why_words ?? {}) ?? told.why ?? '', offer, isSure: isTrue && left.length === 1,
      places: left.map((/** @type {any} */ p) => ({ sense: p.sense, text: inOwn(p.words), distance: p.distance_m, bearing: p.bearing_true_deg })) };
  }
  const own = ownWay(log, nest);
  if (!own) return { words: say('no_way', { flag }), isSure: false, places: [], offer };
  const legs = own.map(p => p.legs.map(l => `${l.steps} ${l.direction}`).join(', ' + say('then') + ' '));
  const texts = own.map((p, i) => p.legs.length > 1 ? say('way_legs', { legs: legs[i], flag }) : say('way', { steps: p.legs[0].steps, direction: p.legs[0].direction, flag }));
  return { words: texts.join(' ' + say('or') + ' '), offer, isSure: isTrue && own.length === 1, places: own.map((p, i) => ({ sense: p.sense, text: texts[i], distance: p.distance, bearing: p.bearing })) };
}

/** @param {App} app @param {string} date */
export const dayText = (app, date) => shortDate(date, app.language);
