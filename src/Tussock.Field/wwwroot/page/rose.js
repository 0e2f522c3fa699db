/** The 16 points in a ring, each a touch of 48 px; by keys one stop, and the arrows go round. */
import { el } from './dom.js';
import { POINTS } from '../wayback/points.js';

const TURNS = /** @type {Record<string, number>} */ ({ ArrowRight: 1, ArrowDown: 1, ArrowLeft: -1, ArrowUp: -1 });

/** @param {string} label @param {string} chosen @param {(point: string) => void} take @param {string} id */
export function rose(label, chosen, take, id) {
  const stop = Math.max(0, POINTS.indexOf(chosen));
  /** @type {HTMLElement[]} */ const points = POINTS.map((p, i) => {
    const made = el('button.point', { type: 'button', id: `${id}-${p}`, tabIndex: i === stop ? 0 : -1, 'aria-pressed': p === chosen, onclick: () => take(p) }, p);
    const angle = i * Math.PI / 8;
    made.style.setProperty('--x', String(Math.sin(angle)));
    made.style.setProperty('--y', String(-Math.cos(angle)));
    return made;
  });
  const turn = (/** @type {KeyboardEvent} */ e) => {
    const at = points.indexOf(/** @type {HTMLElement} */ (e.target)), by = TURNS[e.key];
    if (at < 0 || !by) return;
    e.preventDefault();
    const to = points[(at + by + points.length) % points.length];
    points[at].tabIndex = -1;
    to.tabIndex = 0;
    to.focus();
  };
  return el('div.rose', { role: 'group', 'aria-label': label, onkeydown: turn }, points, el('output.chosen', {}, chosen || '–'));
}
