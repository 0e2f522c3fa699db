/** Days are dates of the season's time zone; a change of clock never moves one. */

const DAY_MS = 86400000;

/** Date of a moment. @param {number} now @param {string} zone IANA name, or '' for the phone's own @returns {string} YYYY-MM-DD */
export function dateIn(now, zone) {
  const part = parts(now, zone);
  return `${part.year}-${part.month}-${part.day}`;
}

/** Local time of a moment. @param {number} now @param {string} zone @returns {string} HH:MM */
export function timeIn(now, zone) {
  const part = parts(now, zone);
  return `${part.hour}:${part.minute}`;
}

/** Whether this browser knows a time zone; '' is the phone's own. @param {string} zone */
export function knowsZone(zone) {
  try { return zone === '' || new Intl.DateTimeFormat('en', { timeZone: zone }) !== null; } catch { return false; }
}

/** @param {number} now @param {string} zone @returns {Record<string, string>} */
function parts(now, zone) {
  const how = /** @type {const} */ ({ year: 'numeric', month: '2-digit', day: '2-digit', hour: '2-digit', minute: '2-digit', hourCycle: 'h23' });
  const format = new Intl.DateTimeFormat('en', { ...how, timeZone: zone && knowsZone(zone) ? zone : undefined });
  return Object.fromEntries(format.formatToParts(now).map(p => [p.type, p.value]));
}

/** Days from one date to another. @param {string} from @param {string} to */
export const daysBetween = (from, to) => Math.round((Date.parse(to + 'T00:00:00Z') - Date.parse(from + 'T00:00:00Z')) / DAY_MS);

/** @param {string} date @param {number} days @returns {string} */
export const plusDays = (date, days) => new Date(Date.parse(date + 'T00:00:00Z') + days * DAY_MS).toISOString().slice(0, 10);

/** The check days of a set-out with their windows; ends belong to them. @param {string} setOn @param {number[]} days @param {number} window */
export const checksOf = (setOn, days, window) => days.map(day => ({ day, on: plusDays(setOn, day), from: plusDays(setOn, day - window), to: plusDays(setOn, day + window) }));
