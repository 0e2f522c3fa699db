/** A real nest or a flushed hen: what to do first, then one touch. */
import { button, cautions, el, field } from './parts.js';
import { fix } from '../page/sense.js';
import { value } from '../log/overlay.js';
import { transects } from '../page/season.js';

/** @param {import('../app.js').App} app */
export function realNest(app) {
  const { say, scratch } = app, names = transects(app.log).map(t => value(t, 'transect'));
  const write = async (/** @type {any} */ e) => {
    e.target.disabled = true;
    const record = app.log.newRecord();
    const fields = { kind: 'real_nest', seen_on: app.today, seen_at: app.time, observer: app.walker, ...(scratch.line ? { transect: scratch.line } : {}), ...(scratch.note ? { note: scratch.note } : {}) };
    if (!await app.touch([{ kind: 'chance', record, fields }])) { e.target.disabled = false; return; }
    app.tell(say('real_nest_written'));
    app.go('today');
    addPlace(app, record);
  };
  return el('section', {}, el('h1', {}, say('real_nest')), cautions(app, 'real_nest'), field(say('which_line'), scratch.line ?? '', t => { scratch.line = t; }, { id: 'line', choices: names }), field(say('note'), scratch.note ?? '', t => { scratch.note = t; }, { id: 'note' }),
    el('div.bar', {}, button(say('write_it'), write, { look: 'main.big', id: 'write-it' })));
}

/** The place comes when it is known: what was met is on disk by then. @param {import('../app.js').App} app @param {string} record */
async function addPlace(app, record) {
  let at;
  try { at = await fix(); } catch { return; }
  // Two decimals are about a kilometre: the place is for the lead, and coarse.
  await app.touch([{ kind: 'chance', record, fields: { lat: at.lat.toFixed(2), lon: at.lon.toFixed(2) } }]);
}
