/** Practice in reading remains: invented nests, or nests from here, a belief in percents, and what it was worth. It stays on this phone and is no record; the practice line is another thing. */
import { button, el } from './parts.js';
import { picture } from '../page/dom.js';
import { inWords } from '../page/words.js';
import { answered, casesOf, common, next } from '../reading/cases.js';
import { bands, apart, evenly, given, left, penalty } from '../reading/score.js';
import { calibrationPicture } from '../reading/picture.js';

/** @typedef {import('../app.js').App} App @typedef {import('../reading/cases.js').Case} Case @typedef {import('../reading/cases.js').Cases} Cases @typedef {import('../reading/cases.js').Done} Done
 * @typedef {{ done: Done[], run: number|null, isTold: boolean, isHere: boolean }} Kept `run`: where in `done` the newest run began; `isHere`: of cases from here */

const RUN = 10, POINTS = 10;

/** @param {App} app */
export function reading(app) {
  const { say, log } = app, kept = keptOf(app), last = kept.done.at(-1), of = casesOf(log.bundle.practice, kept.isHere);
  const isOpen = kept.run !== null && kept.done.length - kept.run < length(of), one = kept.isTold && last && answered(of, last);
  return el('section', {}, el('h1', {}, say('reading_title')),
    !casesOf(log.bundle.practice, false).cases.length ? el('p', { id: 'reading-none' }, say('reading_none')) : one ? told(app, kept, last, one) : isOpen ? ask(app, kept, of) : home(app, kept));
}

/** Cases of a run; of nests from here there may be fewer. @param {Cases} of */
const length = of => Math.min(RUN, of.isHere ? of.cases.length : RUN);

/** @param {App} app @returns {Kept} */
const keptOf = app => ({ done: [], run: null, isTold: false, isHere: false, ...app.settings.reading });

/** @param {App} app @param {Partial<Kept>} part */
const keep = (app, part) => app.set('reading', { ...keptOf(app), ...part }).then(() => app.begin());

/** @param {App} app @param {number} points */
const points = (app, points) => new Intl.NumberFormat(app.language, { minimumFractionDigits: 1, maximumFractionDigits: 1 }).format(points);

/** @param {App} app @param {Cases} of @returns {string[]} */
const names = (app, of) => of.classes.map(c => inWords(c.name, app.language));

/** What lies there: photos where there are any, and what was written down, as it is drawn on the sheets. @param {App} app @param {Case} one */
function remains(app, one) {
  const { say, log } = app, views = one.views ?? [];
  return el('div', {}, views.length ? el('div.views', {}, views.map((hash, i) => {
    const shown = /** @type {HTMLImageElement} */ (el('img.view', { alt: say('reading_photo', { number: i + 1, all: views.length }) }));
    log.view(hash).then(address => { if (address) shown.src = address; else shown.replaceWith(el('p.small', {}, say('reading_no_photo'))); });
    return shown;
  })) : null,
  el('div.pictures', {}, one.remains.map(([token, worth]) => {
    const sign = log.bundle.signs.find((/** @type {any} */ s) => s.sign === token), found = sign.values.find((/** @type {any} */ v) => v.value === worth);
    return el('div.lies', {}, found.picture ? picture(found.picture) : null, el('span', {}, inWords(sign.name, app.language) + ': ', el('strong', {}, inWords(found.name, app.language))));
  })));
}

/** A case, and who it may have been. @param {App} app @param {Kept} kept @param {Cases} of */
function ask(app, kept, of) {
  const { say, scratch } = app, { set, isHere, cases, classes } = of, { number, times } = next(of, kept.done), one = cases[number], shares = common(of, one);
  /** @type {number[]} */ const said = scratch.said ??= classes.map(() => 0);
  const rest = left(said), give = (/** @type {number[]} */ now) => { scratch.said = now; app.draw(); };
  const commit = async () => {
    if (rest) return app.tell(say('reading_give_all', { percent: rest }));
    const { truth } = one;
    scratch.said = undefined;
    await keep(app, { done: [...kept.done, { set, number, ...isHere ? { id: one.id, isHere } : {}, said, truth, isAgain: times > 0, program: penalty(one.program, truth), common: penalty(shares, truth) }], isTold: true });
  };
  return el('div', {}, el('h2', { id: 'reading-case' }, say('reading_case', { number: kept.done.length - (kept.run ?? 0) + 1, all: length(of) })), el('p.small', { id: 'reading-whence' }, say(isHere ? 'reading_is_here' : 'reading_is_invented')),
    times ? el('p.small', { id: 'reading-again' }, say('reading_again', { all: cases.length })) : null,
    remains(app, one), el('h2', {}, say('reading_who')),
    names(app, of).map((name, k) => el('div.give', {}, el('span', {}, name, el('small', {}, say('reading_common', { percent: shares[k] }))),
      button('−', () => give(given(said, k, -POINTS)), { id: `give-${k}-less`, 'aria-label': say('reading_less', { what: name }) }), el('strong', { id: 'give-' + k }, said[k] + ' %'),
      button('+', () => give(given(said, k, POINTS)), { id: `give-${k}-more`, 'aria-label': say('reading_more', { what: name }) }))),
    el('div.row', {}, button(say('reading_zero'), () => give(said.map(() => 0)), { id: 'reading-zero' })),
    el('div.bar', {}, el('p', { id: 'reading-left' }, rest ? say('reading_left', { percent: rest }) : say('reading_all_given')),
      el('div.pair', {}, button(say('reading_evenly'), () => give(evenly(said)), { id: 'reading-evenly', look: 'big' }), button(say('reading_commit'), commit, { id: 'reading-commit', look: 'main.big' }))));
}

/** What it was, beside what was said and what the program believes, and why. @param {App} app @param {Kept} kept @param {Done} done @param {Case} one */
function told(app, kept, done, one) {
  const { say, log } = app, of = casesOf(log.bundle.practice, kept.isHere), all = names(app, of), { truth } = done, isLast = kept.done.length - (kept.run ?? 0) === length(of);
  return el('div', {}, el('p.lead', { id: 'reading-truth' }, say(of.isHere ? 'reading_truth_here' : 'reading_truth', { culprit: all[truth], mine: done.said[truth], program: one.program[truth] })),
    table([say('reading_class'), say('reading_you'), say('reading_program')], all.map((name, k) => ({ name, isTrue: k === truth, cells: [done.said[k] + ' %', one.program[k] + ' %'] }))),
    el('p', { id: 'reading-penalty' }, say('reading_penalty', { mine: points(app, penalty(done.said, truth)), program: points(app, done.program), common: points(app, done.common) })), el('p.small', {}, say('reading_penalty_is')),
    el('h2', {}, say('reading_why')), one.why.length ? el('ul', {}, one.why.map(w => el('li', {}, inWords(w, app.language)))) : el('p', {}, say('reading_why_none')), el('p.small', {}, say('reading_poor')), remains(app, one),
    el('div.bar', {}, button(say(isLast ? 'reading_to_end' : 'reading_next'), () => keep(app, { isTold: false }), { id: 'reading-next', look: 'main.big' })));
}

/** Before and after a run. @param {App} app @param {Kept} kept */
function home(app, kept) {
  const { say, log, scratch } = app, ran = kept.run === null ? [] : kept.done.slice(kept.run), here = casesOf(log.bundle.practice, true).cases.length;
  const invented = kept.done.filter(d => !d.isHere), fromHere = kept.done.filter(d => d.isHere), begin = (/** @type {boolean} */ isHere) => () => { scratch.said = undefined; return keep(app, { run: kept.done.length, isTold: false, isHere }); };
  const clear = scratch.isClearing ? button(say('reading_clear_really', { cases: kept.done.length }), () => keep(app, { done: [], run: null, isTold: false }), { id: 'reading-clear-really', look: 'warn' }) : button(say('reading_clear'), () => { scratch.isClearing = true; app.draw(); }, { id: 'reading-clear' });
  return el('div', {}, ran.length ? end(app, ran) : el('p', {}, say('reading_lead')), el('div.cautions', { role: 'note', 'aria-label': say('cautions') }, el('ul', {}, el('li', {}, say('reading_poor')), el('li', {}, say('reading_stays')))),
    invented.length ? record(app, invented, '', say('reading_invented')) : null, fromHere.length ? record(app, fromHere, 'here-', say('reading_here')) : null, kept.done.length ? el('div.row', {}, clear) : null,
    here ? el('p', { id: 'reading-here-lead' }, say('reading_here_lead', { cases: here })) : null,
    el('div.bar', {}, here ? button(say('reading_begin_here', { cases: Math.min(RUN, here) }), begin(true), { id: 'reading-begin-here', look: 'big' }) : null,
      button(say(here ? 'reading_begin_invented' : ran.length ? 'reading_ten_more' : 'reading_begin'), begin(false), { id: 'reading-begin', look: 'main.big' })));
}

/** The run that has just ended. @param {App} app @param {Done[]} ran */
function end(app, ran) {
  const { say } = app, mean = (/** @type {(d: Done) => number} */ of) => points(app, ran.reduce((sum, d) => sum + of(d), 0) / ran.length);
  return el('div', { id: 'reading-end' }, el('h2', {}, say('reading_end', { cases: ran.length })),
    table([say('reading_whose'), say('reading_mean')], [{ name: say('reading_you'), cells: [mean(d => penalty(d.said, d.truth))] }, { name: say('reading_only_common'), cells: [mean(d => d.common)] }, { name: say('reading_program'), cells: [mean(d => d.program)] }]),
    el('p.small', {}, say('reading_penalty_is')), el('p.small', {}, say('reading_few')));
}

/** All that was ever said on this phone about cases of one kind. @param {App} app @param {Done[]} done @param {string} id @param {string} kind */
function record(app, done, id, kind) {
  const { say } = app, first = done.filter(d => !d.isAgain), found = bands(first);
  return el('div', { id: `reading-${id}record` }, el('h2', {}, say('reading_record'), ' ', el('small', {}, kind)), el('p', { id: `reading-${id}cases` }, say('reading_record_of', { cases: first.length })),
    el('img.calibration', { src: 'data:image/svg+xml;charset=utf-8,' + encodeURIComponent(calibrationPicture(found, { said: say('reading_axis_said'), came: say('reading_axis_came') })), alt: say('reading_picture') }),
    el('p.small', {}, say('reading_picture')), el('ul', { id: `reading-${id}bands` }, found.map(b => el('li', {}, say('reading_band', { from: b.from, to: b.to, times: b.times, said: Math.round(b.said), came: b.came, share: Math.round(100 * b.came / b.times) })))),
    el('p', { id: `reading-${id}apart` }, say('reading_apart', { points: points(app, apart(found)) })));
}

/** @param {string[]} heads @param {{ name: string, isTrue?: boolean, cells: string[] }[]} rows */
function table(heads, rows) {
  return el('table', {}, el('thead', {}, el('tr', {}, heads.map(h => el('th', { scope: 'col' }, h)))),
    el('tbody', {}, rows.map(r => el(r.isTrue ? 'tr.so' : 'tr', {}, el('th', { scope: 'row' }, r.isTrue ? '✓ ' + r.name : r.name), r.cells.map(c => el('td', {}, c))))));
}
