/** The way back to a nest that was set after the last snapshot: dead reckoning from its flag, in one sense or in both. */
import { degreesOf, opposite, point, turn } from './points.js';
import { along, bearing, distance, plus } from './plane.js';

/** @typedef {import('./plane.js').Way} Way @typedef {{ steps: number, direction: string }} Leg
 * @typedef {{ legs: Leg[], sense: 'flag_to_nest'|'nest_to_flag'|'', isMagnetic: boolean }} Paced */

/** The same ground walked the other way: legs in opposite order, directions turned round. @param {Leg[]} legs @returns {Leg[]} */
export const reversed = legs => legs.map(l => ({ steps: l.steps, direction: opposite(l.direction) ?? '' })).reverse();

/** End of legs seen from their beginning. @param {Leg[]} legs @param {number} step metres @param {number} declination degrees, 0 for true north @returns {Way} */
export function end(legs, step, declination) {
  return legs.reduce((/** @type {Way} */ at, l) => plus(at, along(turn((degreesOf(l.direction) ?? 0) + declination), l.steps * step)), { east: 0, north: 0 });
}

/** Where the nest may lie: one place, or two when the sense was not written; flag to nest first. @param {Paced} way @param {number} step @param {number} declination */
export function places(way, step, declination) {
  const by = way.isMagnetic ? declination : 0;
  const at = (/** @type {'flag_to_nest'|'nest_to_flag'} */ sense) => {
    const legs = sense === 'flag_to_nest' ? way.legs : reversed(way.legs), to = end(legs, step, by);
    return { sense, legs, way: to, distance: distance(to), bearing: bearing(to), point: point(bearing(to)) };
  };
  return way.sense === '' ? [at('flag_to_nest'), at('nest_to_flag')] : [at(way.sense)];
}
