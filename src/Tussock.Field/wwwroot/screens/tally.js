/** The belt: a half of the screen a class, one touch a clump. The end of a segment writes zeros for what was not met. One side alone, and a second count, where somebody counts so. */
import { button, chips, el, field } from './parts.js';
import { ready, tick } from '../page/dom.js';
import { value } from '../log/overlay.js';
import { stepM, transect } from '../page/season.js';

/** @typedef {import('../app.js').App} App @typedef {import('../log/types.js').Row} Row */

const USUAL_STEPS = '50', TONE = 440, TONE_APART = 220;

/** @param {App} app @param {string} name */
export function tally(app, name) {
  const { log, say } = app, line = transect(log, name);
  if (!line) return el('section', {}, el('p', {}, say('no_such_line')));
  const arm = app.settings.arm_span_m ?? log.all('crew').filter(c => value(c, 'observer') === app.walker).map(c => value(c, 'arm_span_m')).find(Boolean) ?? '';
  if (!(Number(arm) > 0)) return el('section', {}, el('h1', {}, say('tally_title', { name, segment: 1 })), el('p', {}, say('arm_span_first')), field(say('arm_span'), arm, t => app.set('arm_span_m', t), { id: 'arm-span', inputMode: 'decimal' }));
  app.scratch.pass ??= '1';
  app.scratch.side ??= 'both';
  const segment = app.scratch.segment ??= nextSegment(app, name);
  ready();
  const classes = log.bundle.season.cover_classes.map((/** @type {any} */ c) => c.name);
  return el('section.tally', {}, el('h1', {}, say('tally_title', { name, segment })), el('p', {}, segment === 1 ? say('start_to_flag') : say('between_flags', { from: segment - 1, to: segment })),
    el('div.halves', {}, classes.map((/** @type {string} */ c, /** @type {number} */ i) => half(app, line, segment, arm, c, i))),
    el('div.row', {}, button(say('take_back'), () => takeBack(app, name), { id: 'take-back' }), field(say('segment_steps'), stepsNow(app, line), t => { if (Number(t) > 0) app.set('segment_steps', t); }, { id: 'segment-steps', inputMode: 'numeric' }),
      button(say('not_counted'), () => skip(app, line, segment, arm, classes), { id: 'not-counted' })),
    button(say('end_segment', { segment }), () => endSegment(app, line, segment, arm, classes), { look: 'main.big', id: 'end-segment' }), how(app, name));
}

/** Which sides, and which count: open where this line has been counted so. @param {App} app @param {string} name */
function how(app, name) {
  const { say, scratch } = app, isUsed = app.log.all('belts').some(b => value(b, 'transect') === name && (!['', 'both'].includes(value(b, 'side')) || !['', '1'].includes(value(b, 'pass'))));
  const choose = (/** @type {string} */ what) => (/** @type {string} */ v) => { scratch[what] = v; scratch.isHowOpen = true; delete scratch.segment; app.draw(); };
  return el('details', { open: isUsed || scratch.isHowOpen }, el('summary', { id: 'how' }, say('other_count')),
    chips(say('sides'), [{ value: 'both', name: say('side_both') }, { value: 'left', name: say('side_left') }, { value: 'right', name: say('side_right') }], scratch.side, choose('side'), 'side'),
    chips(say('pass'), [{ value: '1', name: say('pass_first') }, { value: '2', name: say('pass_second') }], scratch.pass, choose('pass'), 'pass'));
}

/** Takes back the newest count of this line, and nothing else; the screen goes to the segment that is open then. @param {App} app @param {string} name */
async function takeBack(app, name) {
  await app.undo(t => t.entries.every(e => e.change.kind === 'belts' && value(app.log.rows.get(e.change.record), 'transect') === name));
  delete app.scratch.segment;
  app.draw();
}

/** @param {App} app @param {Row} line */
const stepsNow = (app, line) => app.settings.segment_steps ?? (value(line, 'steps_between') || USUAL_STEPS);

/** What this count of the line has; sides are told apart where a segment is written. @param {App} app @param {string} name @returns {Row[]} */
const belts = (app, name) => app.log.all('belts').filter(b => value(b, 'transect') === name && (value(b, 'pass') || '1') === app.scratch.pass);

/** @param {Row} belt */
const sideOf = belt => value(belt, 'side') || 'both';

/** The segment that is open on this side, else the one after the last that has this side. @param {App} app @param {string} name */
function nextSegment(app, name) {
  const { side } = app.scratch, all = belts(app, name).filter(b => side === 'both' || ['both', side].includes(sideOf(b))), open = all.find(b => value(b, 'status') === 'part' && sideOf(b) === side);
  return open ? Number(value(open, 'segment')) : 1 + Math.max(0, ...all.map(b => Number(value(b, 'segment'))));
}

/** @param {App} app @param {string} name @param {number} segment @param {string} cover */
const rowOf = (app, name, segment, cover) => belts(app, name).find(b => Number(value(b, 'segment')) === segment && value(b, 'cover') === cover && sideOf(b) === app.scratch.side);

/** @param {App} app @param {Row} line @param {number} segment @param {string} arm @param {string} cover @param {Record<string, string>} more @returns {import('../log/types.js').Said} */
function said(app, line, segment, arm, cover, more) {
  const name = value(line, 'transect'), row = rowOf(app, name, segment, cover);
  if (row) return { kind: 'belts', record: row.id, fields: more };
  return { kind: 'belts', fields: { transect: name, segment: String(segment), steps: stepsNow(app, line), step_m: String(Math.round(stepM(app.log, app.walker, line) * 1000) / 1000), arm_span_m: arm, cover, ...(app.scratch.pass === '1' ? {} : { pass: app.scratch.pass }), ...(app.scratch.side === 'both' ? {} : { side: app.scratch.side }), counted_on: app.today, observer: app.walker, ...more } };
}

/** @param {App} app @param {Row} line @param {number} segment @param {string} arm @param {string} cover @param {number} i */
function half(app, line, segment, arm, cover, i) {
  // Fast thumbs: each touch counts on from the touch before it, not from what was drawn.
  const now = () => Number(value(rowOf(app, value(line, 'transect'), segment, cover), 'clumps')) || 0, count = now();
  return el('button.half.half-' + i % 2, { type: 'button', id: 'half-' + i, 'aria-description': app.say('count_one', { cover, count }), onkeydown: (/** @type {KeyboardEvent} */ e) => { if (e.repeat) e.preventDefault(); }, onclick: () => { tick(TONE + i * TONE_APART); app.touch(() => [said(app, line, segment, arm, cover, { clumps: String(now() + 1), status: 'part' })]); } },
    el('span', {}, cover), el('strong', {}, count));
}

/** @param {App} app @param {Row} line @param {number} segment @param {string} arm @param {string[]} classes */
async function endSegment(app, line, segment, arm, classes) {
  const name = value(line, 'transect');
  const all = () => classes.map(c => said(app, line, segment, arm, c, { clumps: value(rowOf(app, name, segment, c), 'clumps') || '0', status: 'counted', steps: stepsNow(app, line) }));
  if (!await app.touch(all)) return;
  app.scratch.segment = segment + 1;
  app.tell(app.say('segment_written', { segment }));
  app.draw();
}

/** Not counted is not zero. @param {App} app @param {Row} line @param {number} segment @param {string} arm @param {string[]} classes */
async function skip(app, line, segment, arm, classes) {
  if (!await app.touch(classes.map(c => said(app, line, segment, arm, c, { status: 'not_counted', clumps: '' })))) return;
  app.scratch.segment = segment + 1;
  app.draw();
}
