/** The 16 points in a ring, each a touch of 48 px. */
import { el } from './dom.js';
import { POINTS } from '../wayback/points.js';

/** @param {string} label @param {string} chosen @param {(point: string) => void} take @param {string} id */
export function rose(label, chosen, take, id) {
  const points = POINTS.map((p, i) => {
    const made = el('button.point', { type: 'button', id: `${id}-${p}`, 'aria-pressed': p === chosen, onclick: () => take(p) }, p);
    const angle = i * Math.PI / 8;
    made.style.setProperty('--x', String(Math.sin(angle)));
    made.style.setProperty('--y', String(-Math.cos(angle)));
    return made;
  });
  return el('div.rose', { role: 'group', 'aria-label': label }, points, el('output.chosen', {}, chosen || '–'));
}
