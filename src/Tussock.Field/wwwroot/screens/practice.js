/** The practice line: three nests that whoever leads has laid, walked and written by the crew, and told how many were right. It stays on this phone and is no record. */
import { button, chips, counter, el } from './parts.js';
import { rose } from '../page/rose.js';
import { shortDate } from '../page/words.js';

/** @typedef {import('../app.js').App} App
 * @typedef {{ steps: string, direction: string, lies: string, found: string }} Laid */

const NESTS = 3;
const LIES = /** @type {Record<string, string>} */ ({ intact: 'intact', lost: 'lost' });
const FOUND = /** @type {Record<string, string>} */ ({ ...LIES, not_found: 'cant_find' });

/** @param {App} app */
export function practice(app) {
  const { say, settings } = app, { nests = [], isLaid = false, on = '' } = settings.practice ?? {};
  const next = /** @type {Laid[]} */ (nests).findIndex(n => !n.found);
  return el('section', {}, el('h1', {}, say('practice')), el('p', {}, say('practice_counts_not')),
    !isLaid ? lay(app, nests) : next >= 0 ? walk(app, nests, next) : told(app, nests, on));
}

/** @param {App} app @param {Laid[]} nests @param {Record<string, unknown>} [more] */
const keep = (app, nests, more = {}) => app.set('practice', { ...app.settings.practice, nests, ...more });

/** What whoever leads has laid, one nest after another. @param {App} app @param {Laid[]} nests */
function lay(app, nests) {
  const { say, scratch } = app, number = nests.length + 1;
  /** @type {Laid} */ const laid = scratch.laid ??= { steps: '', direction: '', lies: 'intact', found: '' };
  const write = (/** @type {Partial<Laid>} */ part) => { Object.assign(laid, part); app.draw(); };
  const done = async () => {
    if (!(Number(laid.steps) > 0) || !laid.direction) return app.tell(say('still_missing_practice'), true);
    scratch.laid = undefined;
    await keep(app, [...nests, laid], { isLaid: number === NESTS });
    app.begin();
  };
  return el('div', {}, el('p', {}, say('practice_lay')), el('h2', { id: 'practice-nest' }, say('nest', { number })),
    counter(app, say('steps'), laid.steps, t => write({ steps: t }), { id: 'steps' }), rose(say('direction'), laid.direction, d => write({ direction: d }), 'rose'),
    chips(say('what_lies_there'), Object.entries(LIES).map(([value, key]) => ({ value, name: say(key) })), laid.lies, v => write({ lies: v }), 'lies'),
    el('div.bar', {}, button(say(number === NESTS ? 'practice_hand_over' : 'practice_next'), done, { id: 'laid', look: 'main.big' })));
}

/** @param {App} app @param {Laid[]} nests @param {number} i */
function walk(app, nests, i) {
  const { say } = app, nest = nests[i];
  const write = async (/** @type {string} */ found) => {
    await keep(app, nests.map((n, at) => at === i ? { ...n, found } : n), { on: app.today });
    app.begin();
  };
  return el('div', {}, el('h2', { id: 'practice-nest' }, say('nest', { number: i + 1 })), el('p.lead', { id: 'way' }, say('way', { steps: nest.steps, direction: nest.direction, flag: i + 1 })), el('p', {}, say('what_do_you_find')),
    el('div.findings', {}, el('div.three', {}, Object.entries(FOUND).reverse().map(([value, key]) => button(say(key), () => write(value), { id: 'found-' + value, look: value === 'not_found' ? 'cant' : value })))));
}

/** @param {App} app @param {Laid[]} nests @param {string} on */
function told(app, nests, on) {
  const { say } = app, right = nests.filter(n => n.found === n.lies).length;
  return el('div', {}, el('p.lead', { id: 'practice-end' }, say('practice_end', { right, all: nests.length, date: shortDate(on, app.language) })),
    el('ul', {}, nests.map((n, i) => el('li', {}, say(n.found === n.lies ? 'practice_right' : 'practice_wrong', { number: i + 1, laid: say(LIES[n.lies]), found: say(FOUND[n.found]) })))),
    el('div.bar', {}, button(say('practice_again'), () => app.set('practice', null).then(() => app.begin()), { id: 'practice-again', look: 'main.big' })));
}
