/** The 16 points of the compass, and readings that waver. */

export const POINTS = ['N', 'NNE', 'NE', 'ENE', 'E', 'ESE', 'SE', 'SSE', 'S', 'SSW', 'SW', 'WSW', 'W', 'WNW', 'NW', 'NNW'];
export const POINT_DEG = 22.5, MOST_SPREAD_DEG = 15;
const RADIANS = Math.PI / 180, DECIMAL = /^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$/i;

/** @param {number} degrees @returns {number} in [0, 360) */
export const turn = degrees => { const t = ((degrees % 360) + 360) % 360; return t >= 360 ? 0 : t; };

/** Name of the nearest point. @param {number} degrees */
export const point = degrees => POINTS[Math.floor(turn(degrees) / POINT_DEG + 0.5) % 16];

/** Degrees of a point in any case, or of degrees in [0, 360]; null when it is neither. @param {string} text @returns {number|null} */
export function degreesOf(text) {
  const written = text.trim(), i = POINTS.indexOf(written.toUpperCase());
  if (i >= 0) return i * POINT_DEG;
  const number = written.replace(/°$/, '').trim();
  const degrees = DECIMAL.test(number) ? Number(number) : NaN;
  return degrees >= 0 && degrees <= 360 ? degrees % 360 : null;
}

/** The opposite direction, spelled as it was: a point stays a point. @param {string} text @returns {string|null} */
export function opposite(text) {
  const degrees = degreesOf(text);
  if (degrees === null) return null;
  return POINTS.includes(text.trim().toUpperCase()) ? point(degrees + 180) : String((degrees + 180) % 360);
}

/**
 * Mean and spread of compass readings: the direction of the mean vector, and √(−2 ln R) in degrees, R its length.
 * A mean is refused when they waver more than 15°.
 * @param {number[]} readings degrees @returns {{ mean: number|null, spread: number|null }}
 */
export function circular(readings) {
  if (readings.length === 0) return { mean: null, spread: null };
  let east = 0, north = 0;
  for (const r of readings) { east += Math.sin(r * RADIANS); north += Math.cos(r * RADIANS); }
  const length = Math.min(1, Math.hypot(east, north) / readings.length);
  const spread = length < 1e-9 ? null : Math.sqrt(Math.max(0, -2 * Math.log(length))) / RADIANS;
  return { mean: spread === null || spread > MOST_SPREAD_DEG ? null : turn(Math.atan2(east, north) / RADIANS), spread };
}
