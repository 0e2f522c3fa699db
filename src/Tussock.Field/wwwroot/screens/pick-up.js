/** Pick-up: what went out must come in. */
import { button, cautions, counter, el } from './parts.js';
import { value } from '../log/overlay.js';
import { isSet, nestsOf, transect } from '../page/season.js';

const COUNTS = /** @type {const} */ ([['flags_out', 'flags_out'], ['flags_in', 'flags_in'], ['washers_out', 'washers_out'], ['washers_in', 'washers_in']]);

/** @param {import('../app.js').App} app @param {string} name */
export function pickUp(app, name) {
  const { log, say } = app, line = transect(log, name);
  if (!line) return el('section', {}, el('p', {}, say('no_such_line')));
  const get = (/** @type {string} */ f) => value(line, f), all = nestsOf(log, name), set = all.filter(n => isSet(log, n));
  const usual = /** @type {Record<string, number>} */ ({ flags_out: all.filter(n => isSet(log, n) || value(n, 'status') === 'no_clump').length, washers_out: set.length });
  const number = (/** @type {string} */ f) => get(f) === '' ? usual[f] ?? 0 : Number(get(f));
  const left = (/** @type {string} */ what) => number(what + '_out') - number(what + '_in');
  const write = (/** @type {Record<string, string>} */ fields) => app.touch([{ kind: 'transects', record: line.id, fields }]);
  const done = async () => {
    const fields = Object.fromEntries(COUNTS.map(([f]) => [f, String(number(f))]));
    if (await write({ ...fields, picked_up_on: app.today })) app.tell(say('picked_up'));
  };
  return el('section', {}, el('h1', {}, say('pick_up_title', { name })), cautions(app, 'pick_up'),
    COUNTS.map(([f, key]) => counter(app, say(key), String(number(f)), t => write({ [f]: t }), { id: f.replace('_', '-') })),
    el('p.lead', { id: 'left', role: 'status' }, left('flags') > 0 ? say('flags_left', { count: left('flags') }) : say('flags_even'), ' ', left('washers') > 0 ? say('washers_left', { count: left('washers') }) : say('washers_even')),
    el('div.bar', {}, button(say('pick_up_done'), done, { look: 'main.big', id: 'pick-up-done' })));
}
