/** Sets out one station in the order of the work: flag, clump, eggs, photo, walk back, steps, direction. Every touch is on disk at once; the station counts from "The nest is set" on. */
import { button, cautions, chips, counter, el, field, landmarks, photo } from './parts.js';
import { rose } from '../page/rose.js';
import { compass, fix } from '../page/sense.js';
import { voice } from '../page/voice.js';
import { value } from '../log/overlay.js';
import { isSet, nestsOf, transect, turnOf } from '../page/season.js';

/** @typedef {import('../app.js').App} App @typedef {import('../log/types.js').Row} Row
 * @typedef {{ app: App, name: string, number: string, nest: Row|undefined, line: Row, turn: string, write: (fields: Record<string, string>) => Promise<boolean>, get: (field: string) => string }} Station */

const CHOICES = /** @type {const} */ (['nearest', 'best_seen', 'only_one', 'poor']);
const CHOICE_WORDS = { nearest: 'choice_nearest', best_seen: 'choice_best_seen', only_one: 'choice_only_one', poor: 'choice_poor' };

/** @param {App} app @param {string} name @param {string} [asked] */
export function setOut(app, name, asked) {
  const { log, say } = app, line = transect(log, name);
  if (!line) return el('section', {}, el('p', {}, say('no_such_line')));
  const all = nestsOf(log, name), number = asked ?? nextNumber(app, all), nest = all.find(n => value(n, 'nest') === number);
  const record = nest?.id ?? (app.scratch['new ' + number] ??= log.newRecord()), turn = turnOf(log, nest, Number(number));
  // Until it is finished a station says so itself: the date of its line must not make it count.
  const begun = nest ? isSet(log, nest) || value(nest, 'status') ? {} : { status: 'not_set' } : { transect: name, nest: number, class_due: turn, status: 'not_set' };
  const write = (/** @type {Record<string, string>} */ fields) => app.touch([{ kind: 'nests', record, fields: { ...begun, ...fields } }]);
  const get = (/** @type {string} */ f) => value(nest, f);
  const s = { app, name, number, nest, line, turn, write, get };
  return el('section', {}, el('h1', {}, say('station', { name, number })), app.walker ? null : el('p.grave', {}, say('who_walks')),
    flag(s), clump(s), eggs(s), part(say('step_photo'), photo(app, nest, photos => ({ kind: 'nests', record, fields: { ...begun, photos } }), { transect: name, nest: number })),
    walkBack(s), part(say('step_note'), landmarks(app, get('landmarks'), t => write({ landmarks: t })), field(say('note'), get('note'), t => write({ note: t }), { id: 'note' }), voice(app, { transect: name, nest: number })),
    finish(s), cautions(app, 'set_out'));
}

/** @param {App} app @param {Row[]} all */
function nextNumber(app, all) {
  const open = all.find(n => !isSet(app.log, n) && ['', 'not_set'].includes(value(n, 'status')));
  return open ? value(open, 'nest') : String(1 + Math.max(0, ...all.map(n => Number(value(n, 'nest')))));
}

/** @param {string} title @param {...any} inside */
const part = (title, ...inside) => el('section.part', {}, el('h2', {}, title), inside);

/** @param {Station} s */
function flag({ app, name, number, write, get }) {
  const { say } = app, accuracy = get('gps_accuracy_m');
  const take = async () => {
    const out = /** @type {HTMLElement} */ (document.getElementById('fix'));
    out.textContent = say('looking_for_gps');
    try {
      const at = await fix(best => { out.textContent = say('fix', { metres: Math.ceil(best.accuracy) }); });
      await write({ flag_lat: at.lat.toFixed(6), flag_lon: at.lon.toFixed(6), gps_accuracy_m: (Math.ceil(at.accuracy * 10) / 10).toString(), position_source: 'gps' });
    } catch { out.textContent = say('no_fix'); }
  };
  return part(say('step_flag'), el('p', {}, say('write_on_flag', { name, number })), el('div.row', {}, button(say('take_fix'), take, { id: 'take-fix' }), el('output', { id: 'fix' }, accuracy ? say('fix', { metres: accuracy }) : '')));
}

/** @param {Station} s */
function clump({ app, turn, write, get, ...s }) {
  const { say, log } = app, { cover_classes: classes, clump_rule: rule, search_rule_steps: far } = log.bundle.season;
  return part(say('step_clump'), el('p.lead', { id: 'turn' }, say('turn', { cover: turn })), rule ? el('p', {}, say('clump_rule', { rule })) : null,
    chips(say('cover'), classes.map((/** @type {any} */ c) => ({ value: c.name, name: c.name })), get('cover') || turn, v => write({ cover: v }), 'cover'),
    chips(say('choice'), CHOICES.map(c => ({ value: c, name: say(CHOICE_WORDS[c]) })), get('clump_choice'), v => write({ clump_choice: v }), 'choice'),
    field(say('plant'), get('plant'), t => write({ plant: t }), { id: 'plant', choices: [...new Set(log.all('nests').map(n => value(n, 'plant')).filter(Boolean))] }),
    button(say('no_clump', { steps: far }), () => noClump({ app, turn, write, get, ...s }), { id: 'no-clump', look: 'warn' }));
}

/** @param {Station} s */
async function noClump({ app, name, line, nest, number, turn }) {
  const record = nest?.id ?? app.scratch['new ' + number];
  const fields = { ...(nest ? {} : { transect: name, nest: number }), class_due: turn, status: 'no_clump', set_on: app.today, steps_searched: String(app.log.bundle.season.search_rule_steps) };
  if (await app.touch([{ kind: 'nests', record, fields }, ...crewOfLine(app, line)])) { app.tell(app.say('no_clump_written')); app.go('transect', name); }
}

/** @param {Station} s */
function eggs({ app, write, get }) {
  const { say } = app, usual = String(app.log.bundle.season.eggs_per_nest);
  return part(say('step_eggs'), cautions(app, 'eggs'), counter(app, say('eggs'), get('eggs') || usual, t => write({ eggs: t }), { id: 'eggs' }));
}

/** @param {Station} s */
function walkBack({ app, write, get }) {
  const { say } = app, sense = get('direction_sense') || (get('direction') ? '' : 'flag_to_nest'), hasTwo = get('steps_2') !== '' || app.scratch.two;
  const read = async () => {
    app.tell(say('hold_still'));
    const said = await compass();
    if (said.mean === null) app.tell(say(said.readings === 0 ? 'no_compass' : 'compass_wavers'), true);
    else await point(String(Math.round(said.mean) % 360));
  };
  const point = (/** @type {string} */ d) => write({ direction: d, north: 'magnetic', ...(sense ? { direction_sense: sense } : {}), paced_by: app.walker });
  return part(say('step_back'), counter(app, say('steps'), get('steps'), t => write({ steps: t, paced_by: app.walker }), { id: 'steps' }),
    el('p.lead', {}, say(sense === 'nest_to_flag' ? 'point_to_flag' : 'point_to_nest')), rose(say('direction'), get('direction'), point, 'rose'),
    el('div.row', {}, button(say('read_compass'), read, { id: 'read-compass' }), field(say('degrees'), /^\d/.test(get('direction')) ? get('direction') : '', t => { if (t !== '' && Number(t) >= 0 && Number(t) <= 360) point(t); else app.tell(say('not_a_number')); }, { id: 'degrees', inputMode: 'numeric' })),
    chips(say('sense'), [{ value: 'flag_to_nest', name: say('flag_to_nest') }, { value: 'nest_to_flag', name: say('nest_to_flag') }], sense, v => write({ direction_sense: v }), 'sense'),
    hasTwo ? el('div', {}, counter(app, say('steps_2'), get('steps_2'), t => write({ steps_2: t }), { id: 'steps-2' }), rose(say('direction_2'), get('direction_2'), d => write({ direction_2: d }), 'rose-2'))
      : button(say('two_legs'), () => { app.scratch.two = true; app.draw(); }, { id: 'two-legs' }));
}

/** @param {Station} s */
function finish({ app, name, number, nest, line, turn, get }) {
  const { say } = app, missing = [get('steps') ? '' : say('steps'), get('direction') ? '' : say('direction')].filter(Boolean);
  const done = async () => {
    const record = nest?.id ?? app.scratch['new ' + number];
    const fields = { ...(nest ? {} : { transect: name, nest: number, class_due: turn }), cover: get('cover') || turn, eggs: get('eggs') || String(app.log.bundle.season.eggs_per_nest),
      egg_kind: get('egg_kind') || app.log.bundle.season.egg_kind, set_on: app.today, set_at: app.time, status: 'set' };
    if (!fields.egg_kind) delete (/** @type {any} */ (fields)).egg_kind;
    if (!await app.touch([{ kind: 'nests', record, fields }, ...crewOfLine(app, line)], [], { isLast: true })) return;
    app.tell(say('nest_is_set_said', { number }));
    app.scratch = {};
    if (app.route()[2]) app.go('set-out', name); else app.begin();
  };
  return el('div.bar', {}, missing.length ? el('p', { id: 'missing' }, say('still_missing', { what: missing.join(', ') })) : null, button(say('nest_is_set'), done, { id: 'nest-is-set', look: 'main.big' }));
}

/** Who walked the line; its date stays with its stations. @param {App} app @param {Row} line @returns {import('../log/types.js').Said[]} */
function crewOfLine(app, line) {
  if (value(line, 'observer') || !app.walker) return [];
  return [{ kind: 'transects', record: line.id, fields: { observer: app.walker, paced_by: app.walker, ...(app.settings.recorder ? { recorder: app.settings.recorder } : {}) } }];
}
