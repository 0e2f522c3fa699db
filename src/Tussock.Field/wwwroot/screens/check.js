/** One nest: the way back, and what is found there. An intact nest takes three touches: the nest, intact, fresh eggs. */
import { button, cautions, chips, el, photo, field } from './parts.js';
import { hold } from '../page/hold.js';
import { value } from '../log/overlay.js';
import { inWords, shortDate } from '../page/words.js';
import { endedBefore, nestsOf, openChecks, setOn, visitToday } from '../page/season.js';
import { follow } from '../page/sense.js';
import { between, bearing, distance, placeAt, along } from '../wayback/plane.js';
import { daysBetween } from '../wayback/days.js';
import { point } from '../wayback/points.js';
import { wayBack } from './line.js';

/** @typedef {import('../app.js').App} App @typedef {import('../log/types.js').Row} Row */

/** @param {App} app @param {string} id */
export function check(app, id) {
  const { log, say } = app, nest = log.rows.get(id);
  if (!nest) return el('section', {}, el('p', {}, say('no_such_nest')));
  const name = value(nest, 'transect'), number = value(nest, 'nest'), visit = visitToday(log, nest, app.today), over = endedBefore(log, nest, app.today);
  const day = daysBetween(setOn(log, nest), app.today);
  return el('section', {}, el('h1', {}, say('station', { name, number })), el('p', {}, say('day_since', { day, cover: value(nest, 'cover') })),
    over ? el('p.lead', { id: 'over' }, over.said ? inWords(over.said, app.language) : say('lost_before', { day: over.day ?? 0 })) : el('div', {}, outside(app, nest), way(app, nest)),
    over ? null : visit ? written(app, nest, visit) : findings(app, nest, day),
    cautions(app, ...(visit && value(visit, 'finding') === 'intact' ? ['eggs'] : ['check'])));
}

/** Says when today is outside every window. @param {App} app @param {Row} nest */
function outside(app, nest) {
  const open = openChecks(app.log, nest, app.today);
  if (!open.length || open.some(c => c.from <= app.today && app.today <= c.to)) return null;
  return el('p.note', {}, app.say('outside_window', { date: shortDate(open[0].on, app.language) }));
}

/** @param {App} app @param {Row} nest */
function way(app, nest) {
  const { say } = app, back = wayBack(app, nest), isOpen = back.places.length > 1;
  return el('div.way', {}, el('p.lead', { id: 'way' }, back.words), back.why ? el('p.note', { id: 'way-why' }, back.why) : null, value(nest, 'landmarks') ? el('p', {}, value(nest, 'landmarks')) : null, value(nest, 'plant') ? el('p', {}, say('in_plant', { plant: value(nest, 'plant') })) : null, value(nest, 'note') ? el('p', {}, value(nest, 'note')) : null,
    isOpen ? el('div', {}, el('p', {}, say('two_places')), el('div.row', {}, back.places.map((p, i) => button(say(i === 0 ? 'found_first' : 'found_second'), () => foundAt(app, nest, p.sense), { id: 'found-' + (i + 1) })))) : null,
    offer(app, nest, back.offer), arrow(app, nest, back.isSure ? back.places[0] : undefined));
}

/** The sense in one touch. @param {App} app @param {Row} nest @param {string} sense */
async function foundAt(app, nest, sense) {
  if (!await app.touch([{ kind: 'nests', record: nest.id, fields: { direction_sense: sense } }])) return;
  app.scratch.sense = sense;
  app.tell(app.say('sense_written', { sense: app.say(sense === 'nest_to_flag' ? 'nest_to_flag' : 'flag_to_nest') }));
  app.draw();
}

/** The same sense for the recorder's other nests of that day. @param {App} app @param {Row} nest @param {string[]} told */
function offer(app, nest, told) {
  const sense = app.scratch.sense;
  if (!sense) return null;
  const { log, say } = app, on = setOn(log, nest), who = value(nest, 'paced_by');
  const isLike = (/** @type {Row} */ n) => n.id !== nest.id && setOn(log, n) === on && value(n, 'paced_by') === who && value(n, 'direction') !== '' && value(n, 'direction_sense') === '';
  const others = log.all('nests').filter(n => told.includes(n.id) ? value(n, 'direction_sense') === '' : isLike(n) && (who !== '' || value(n, 'transect') === value(nest, 'transect')));
  if (!others.length) return null;
  return button(say('sense_offer', { count: others.length }), () => app.touch(others.map(n => ({ kind: 'nests', record: n.id, fields: { direction_sense: sense } }))), { id: 'sense-offer' });
}

/** Distance and direction by GPS, while the screen is open: to the nest, or to its flag where the nest's direction is not sure. @param {App} app @param {Row} nest @param {{ distance: number, bearing: number }|undefined} paced */
function arrow(app, nest, paced) {
  const flag = { lat: Number(value(nest, 'flag_lat')), lon: Number(value(nest, 'flag_lon')) };
  if (!value(nest, 'flag_lat') || !value(nest, 'flag_lon')) return null;
  const to = paced ? placeAt(flag, along(paced.bearing, paced.distance)) : flag;
  const out = el('output', { id: 'arrow' });
  const start = () => {
    out.textContent = app.say('looking_for_gps');
    const stop = follow(here => {
      if (!out.isConnected) return stop();
      const go = between(here, to);
      out.textContent = app.say(paced ? 'arrow_nest' : 'arrow_flag', { metres: Math.round(distance(go)), direction: point(bearing(go)), accuracy: Math.ceil(here.accuracy) });
    });
  };
  return el('div.row', {}, button(app.say('arrow'), start, { id: 'show-arrow' }), out);
}

/** @param {App} app @param {Row} nest @param {string} finding @param {Record<string, string>} [more] */
export function visitFields(app, nest, finding, more = {}) {
  return { transect: value(nest, 'transect'), nest: value(nest, 'nest'), visited_on: app.today, visited_at: app.time, finding, observer: app.walker, ...more };
}

/** @param {App} app @param {Row} nest @param {number} day */
function findings(app, nest, day) {
  const { say } = app, words = { hint: say('hold'), again: say('press_again') };
  return el('div.findings', {}, el('p', {}, say('what_do_you_find')), el('div.three', {},
    hold(say('lost'), words, () => app.go('lost', nest.id), { look: 'lost', id: 'lost' }),
    hold(say('cant_find'), words, () => app.go('search', nest.id), { look: 'cant', id: 'cant-find' }),
    button(say('intact'), () => app.touch([{ kind: 'visits', fields: visitFields(app, nest, 'intact') }]), { look: 'intact', id: 'intact', disabled: day < 0 })));
}

/** After the finding: fresh eggs, photo, note, the next nest. @param {App} app @param {Row} nest @param {Row} visit */
function written(app, nest, visit) {
  const { log, say } = app, finding = value(visit, 'finding'), write = (/** @type {Record<string, string>} */ fields) => app.touch([{ kind: 'visits', record: visit.id, fields }]);
  const isLast = openChecks(log, nest, app.today).length === 0, asks = finding === 'intact' && log.bundle.season.renew_eggs !== 'never' && !isLast;
  return el('div', {}, el('p.lead', { id: 'written' }, say(finding === 'intact' ? 'written_intact' : finding === 'not_relocated' ? 'written_not_found' : 'written_lost')),
    photo(app, visit, photos => ({ kind: 'visits', record: visit.id, fields: { photos } }), { transect: value(nest, 'transect'), nest: value(nest, 'nest') }),
    field(say('note'), value(visit, 'note'), t => write({ note: t }), { id: 'note' }),
    finding === 'intact' ? null : button(say('signs_on'), () => app.go('lost', nest.id), { id: 'to-signs', disabled: finding === 'not_relocated' }),
    el('div.bar', {}, asks ? chips(say('fresh_eggs'), [{ value: 'yes', name: say('yes') }, { value: 'no', name: say('no') }], value(visit, 'eggs_refreshed'), v => write({ eggs_refreshed: v }), 'fresh') : null,
      button(say('next_nest'), () => next(app, nest), { look: 'main.big', id: 'next-nest' })));
}

/** The next nest of the walk that has no finding today. @param {App} app @param {Row} nest */
export function next(app, nest) {
  const { log } = app, all = nestsOf(log, value(nest, 'transect')), walk = app.settings.from_end ? all.reverse() : all;
  const open = walk.slice(walk.findIndex(n => n.id === nest.id) + 1).find(n => setOn(log, n) && !visitToday(log, n, app.today) && !endedBefore(log, n) && openChecks(log, n, app.today).some(c => c.from <= app.today));
  if (open) app.go('check', open.id); else app.go('transect', value(nest, 'transect'));
}
