/** Who is out alone says when they will be back. What is kept is that moment, so that midnight changes nothing. */
import { button, el } from './parts.js';

/** The moment at which a clock on the wall next shows a time. @param {string} time HH:MM, by the phone's clock @param {number} now @returns {number} */
export function nextTime(time, now) {
  const [hour, minute] = time.split(':').map(Number), at = new Date(now);
  at.setHours(hour, minute, 0, 0);
  if (at.getTime() <= now) at.setDate(at.getDate() + 1);
  return at.getTime();
}

/** @param {number} at */
const clock = at => { const d = new Date(at), two = (/** @type {number} */ n) => String(n).padStart(2, '0'); return two(d.getHours()) + ':' + two(d.getMinutes()); };

/** @param {import('../app.js').App} app */
export const isOverdue = app => Number(app.settings.back_at) > 0 && Date.now() >= app.settings.back_at;

/** When a lone worker said to be back. @param {import('../app.js').App} app */
export function backBy(app) {
  const { say, settings } = app;
  return el('div.field', {}, el('label', { for: 'back-by' }, say('back_by')),
    el('input', { id: 'back-by', type: 'time', value: settings.back_at ? clock(settings.back_at) : '', onchange: (/** @type {any} */ e) => app.set('back_at', e.target.value ? nextTime(e.target.value, Date.now()) : null) }));
}

/** The alarm, on whatever screen is open. @param {import('../app.js').App} app */
export function overdue(app) {
  return isOverdue(app) ? el('div.grave', { role: 'alert', id: 'overdue' }, el('p', {}, app.say('overdue', { time: clock(app.settings.back_at) })), button(app.say('checked_in'), () => app.set('back_at', null), { id: 'checked-in' })) : null;
}
