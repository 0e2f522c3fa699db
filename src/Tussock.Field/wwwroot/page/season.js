/** The season as the screens ask for it: lines, stations, what is due. */
import { value } from '../log/overlay.js';
import { checksOf, daysBetween } from '../wayback/days.js';
import { places } from '../wayback/way.js';
import { ASSUMED_STEP_M, stepOf } from '../wayback/steps.js';
import { degreesOf } from '../wayback/points.js';

/** @typedef {import('../log/phone-log.js').PhoneLog} PhoneLog @typedef {import('../log/types.js').Row} Row
 * @typedef {{ nest: Row, day: number, on: string, from: string, to: string }} Due */

const LOSSES = ['depredated', 'other_loss'];

const byName = new Intl.Collator('en', { numeric: true });

/** What every station of a screen asks for again, made once for each state of the log. @type {WeakMap<PhoneLog, { version: number, made: Map<string, any> }>} */
const shelves = new WeakMap();

/** @template T @param {PhoneLog} log @param {string} name @param {() => T} make @returns {T} */
function once(log, name, make) {
  let shelf = shelves.get(log);
  if (!shelf || shelf.version !== log.version) shelves.set(log, shelf = { version: log.version, made: new Map() });
  if (!shelf.made.has(name)) shelf.made.set(name, make());
  return shelf.made.get(name);
}

/** Rows of a kind by line and, where asked for, station. @param {PhoneLog} log @param {string} kind @param {(row: Row) => string} key @returns {Map<string, Row[]>} */
const grouped = (log, kind, key) => once(log, kind, () => {
  const groups = new Map();
  for (const row of log.all(kind)) {
    const group = groups.get(key(row));
    if (group) group.push(row); else groups.set(key(row), [row]);
  }
  return groups;
});

/** @param {Row} row */
const stationOf = row => value(row, 'transect') + '\n' + value(row, 'nest');

/** @param {PhoneLog} log @returns {Row[]} */
export const transects = log => [...once(log, 'lines', () => log.all('transects').sort((a, b) => byName.compare(value(a, 'transect'), value(b, 'transect'))))];

/** @param {PhoneLog} log @param {string} name */
export const transect = (log, name) => grouped(log, 'transects', t => value(t, 'transect')).get(name)?.[0];

/** @param {PhoneLog} log @param {string} name @returns {Row[]} stations along the line */
export const nestsOf = (log, name) => [...grouped(log, 'nests', n => value(n, 'transect')).get(name) ?? []].sort((a, b) => Number(value(a, 'nest')) - Number(value(b, 'nest')));

/** @param {PhoneLog} log @param {Row} nest */
export const setOn = (log, nest) => value(nest, 'set_on') || value(transect(log, value(nest, 'transect')), 'set_on');

/** Whether a nest stands there. @param {PhoneLog} log @param {Row} nest */
export const isSet = (log, nest) => setOn(log, nest) !== '' && ['', 'set'].includes(value(nest, 'status'));

/** @param {PhoneLog} log @param {Row} nest @returns {Row[]} by date */
export const visitsOf = (log, nest) => [...grouped(log, 'visits', stationOf).get(stationOf(nest)) ?? []]
  .sort((a, b) => (value(a, 'visited_on') + value(a, 'visited_at')).localeCompare(value(b, 'visited_on') + value(b, 'visited_at')));

/** What may be said of an earlier finding: only that a nest is over. @param {PhoneLog} log @param {Row} nest @returns {{ said: Record<string, string>|null, day: number|null }|null} */
export function endedBefore(log, nest, today = '9999') {
  const said = (log.bundle?.ended ?? []).find((/** @type {any} */ e) => e.nest === nest.id);
  if (said) return { said: said.say, day: null };
  const lost = visitsOf(log, nest).find(v => LOSSES.includes(value(v, 'finding')) && value(v, 'visited_on') < today);
  return lost ? { said: null, day: daysBetween(setOn(log, nest), value(lost, 'visited_on')) } : null;
}

/** Visit of this nest today, if there is one. @param {PhoneLog} log @param {Row} nest @param {string} today */
export const visitToday = (log, nest, today) => visitsOf(log, nest).filter(v => value(v, 'visited_on') === today && ['', 'check'].includes(value(v, 'purpose'))).at(-1);

/** Checks of a nest that no visit has answered yet; one that was not found may be searched again until its window ends. @param {PhoneLog} log @param {Row} nest @param {string} today @returns {Due[]} */
export function openChecks(log, nest, today) {
  const { check_days: days, check_window_days: window } = log.bundle.season, all = checksOf(setOn(log, nest), days, window);
  const visits = visitsOf(log, nest).filter(v => value(v, 'finding') !== '').map(v => ({ on: value(v, 'visited_on'), isFound: value(v, 'finding') !== 'not_relocated' }));
  return all.filter((c, i) => !visits.some(v => v.on >= c.from && (i + 1 === all.length || v.on < all[i + 1].from) && (v.isFound || today > c.to))).map(c => ({ nest, ...c }));
}

/** What is due on a day or late, by line. @param {PhoneLog} log @param {string} today @returns {Map<string, Due[]>} */
export function due(log, today) {
  /** @type {Map<string, Due[]>} */ const lines = new Map();
  for (const nest of log.all('nests')) {
    if (!isSet(log, nest) || endedBefore(log, nest)) continue;
    const now = openChecks(log, nest, today).filter(c => c.from <= today).at(-1);
    if (!now) continue;
    const name = value(nest, 'transect');
    lines.set(name, [...lines.get(name) ?? [], now]);
  }
  for (const list of lines.values()) list.sort((a, b) => Number(value(a.nest, 'nest')) - Number(value(b.nest, 'nest')));
  return lines;
}

/** The next check that is not due yet, over all lines. @param {PhoneLog} log @param {string} today */
export function nextCheck(log, today) {
  return log.all('nests').filter(n => isSet(log, n) && !endedBefore(log, n)).flatMap(n => openChecks(log, n, today)).filter(c => c.from > today)
    .sort((a, b) => a.on.localeCompare(b.on))[0] ?? null;
}

/** The class whose turn it is: what was drawn, else by number, odd and even. @param {PhoneLog} log @param {Row|undefined} nest @param {number} number */
export function turnOf(log, nest, number) {
  const classes = log.bundle.season.cover_classes;
  return value(nest, 'class_due') || (value(nest, 'set_on') ? '' : value(nest, 'cover')) || classes[(number - 1) % Math.max(1, Math.min(2, classes.length))]?.name || '';
}

/** Step of a person in metres. @param {PhoneLog} log @param {string} who @param {Row|undefined} line */
export function stepM(log, who, line) {
  const own = stepOf(log.all('crew').filter(c => value(c, 'observer') === who).map(c => ({ course_m: Number(value(c, 'course_m')), steps: Number(value(c, 'steps')) })));
  const told = (log.bundle.people ?? []).find((/** @type {any} */ p) => p.observer === who && !p.assumed);
  return own.step ?? told?.step_m ?? (Number(value(line, 'step_m')) || ASSUMED_STEP_M);
}

/** Declination of a line; null when it is not known. @param {PhoneLog} log @param {string} name @returns {number|null} */
export const declination = (log, name) => (log.bundle.declination ?? []).find((/** @type {any} */ d) => d.transect === name && d.degrees_east !== null)?.degrees_east ?? null;

/** The way back that the phone makes itself from what was written; null when nothing was. @param {PhoneLog} log @param {Row} nest */
export function ownWay(log, nest) {
  const steps = Number(value(nest, 'steps')), direction = value(nest, 'direction');
  if (!(steps > 0) || degreesOf(direction) === null) return null;
  const legs = [{ steps, direction }], second = Number(value(nest, 'steps_2'));
  if (second > 0 && degreesOf(value(nest, 'direction_2')) !== null) legs.push({ steps: second, direction: value(nest, 'direction_2') });
  const line = transect(log, value(nest, 'transect')), sense = /** @type {any} */ (value(nest, 'direction_sense'));
  const who = value(nest, 'paced_by') || value(line, 'paced_by') || value(line, 'observer');
  const turned = declination(log, value(nest, 'transect'));
  return places({ legs, sense, isMagnetic: value(nest, 'north') !== 'true' }, stepM(log, who, line), turned ?? 0);
}

/** Names of people that records hold. @param {PhoneLog} log @returns {string[]} */
export const people = log => [...new Set([...log.all('crew').map(c => value(c, 'observer')), ...log.all('transects').map(t => value(t, 'observer')), ...log.all('visits').map(v => value(v, 'observer'))].filter(Boolean))].sort();

/** Token as people read it: the season's own classes stay as they are. @param {string} token */
export const plain = token => token.replaceAll('_', ' ');
