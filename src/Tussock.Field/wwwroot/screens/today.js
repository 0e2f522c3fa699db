/** What is due today, line by line, and what else there is to do. */
import { button, cautions, crew, el } from './parts.js';
import { value } from '../log/overlay.js';
import { shortDate } from '../page/words.js';
import { due, nestsOf, isSet, nextCheck, transects } from '../page/season.js';
import { backBy } from './lone-worker.js';
import { knowsZone } from '../wayback/days.js';
import { kept } from './start.js';

/** @param {import('../app.js').App} app */
export function today(app) {
  const { log, say } = app, now = due(log, app.today), next = nextCheck(log, app.today);
  const count = [...now.values()].reduce((n, l) => n + l.length, 0);
  return el('section', {}, el('h1', {}, shortDate(app.today, app.language)), zoneNote(app),
    el('p.lead', { id: 'due' }, count ? say('due', { count }) : next ? say('nothing_due', { date: shortDate(next.on, app.language) }) : say('nothing_due_at_all')),
    [...now].map(([name, list]) => el('button.card.main', { type: 'button', id: 'due-' + name, onclick: () => app.go('transect', name) },
      el('strong', {}, say('line', { name })), el('span', {}, lateOrDue(app, list)))),
    el('h2', {}, say('lines')), transects(log).map(t => lineCard(app, value(t, 'transect'))),
    transects(log).length ? null : el('p', {}, say('no_lines')),
    el('h2', {}, say('crew')), crew(app), backBy(app),
    el('div.row', {}, button(say('calibrate'), () => app.go('calibrate'), { id: 'to-calibrate' }), log.bundle.practice ? button(say('reading_title'), () => app.go('reading'), { id: 'to-reading' }) : null, button(say('real_nest'), () => app.go('real-nest'), { id: 'to-real-nest', look: 'warn' })),
    cautions(app, 'start'), kept(app));
}

/** @param {import('../app.js').App} app @param {import('../page/season.js').Due[]} list */
function lateOrDue(app, list) {
  const late = list.filter(d => d.to < app.today).length, day = Math.max(...list.map(d => d.day));
  const text = app.say('to_check', { count: list.length, day });
  return late ? text + ' · ' + app.say('late', { count: late }) : text;
}

/** @param {import('../app.js').App} app @param {string} name */
function lineCard(app, name) {
  const all = nestsOf(app.log, name), set = all.filter(n => isSet(app.log, n)).length;
  return el('button.card', { type: 'button', id: 'line-' + name, onclick: () => app.go('transect', name) }, el('strong', {}, app.say('line', { name })), el('span', {}, app.say('nests_set', { set, all: all.length })));
}

/** A browser that lacks the season's zone takes the phone's own: that must be seen. @param {import('../app.js').App} app */
function zoneNote(app) {
  return knowsZone(app.zone) ? null : el('p.note', { id: 'zone-unknown' }, app.say('zone_unknown', { zone: app.zone }));
}
