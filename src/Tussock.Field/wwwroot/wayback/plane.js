/** Places near each other: ways on the plane that touches the earth between them (WGS 84). */
import { turn } from './points.js';

/** @typedef {{ lat: number, lon: number }} Place @typedef {{ east: number, north: number }} Way */

const RADIANS = Math.PI / 180, SEMI_MAJOR_M = 6378137, ECCENTRICITY_SQUARED = 0.00669437999014;

/** @param {number} degrees true bearing @param {number} metres @returns {Way} */
export const along = (degrees, metres) => ({ east: metres * Math.sin(degrees * RADIANS), north: metres * Math.cos(degrees * RADIANS) });

/** @param {Way} a @param {Way} b @returns {Way} */
export const plus = (a, b) => ({ east: a.east + b.east, north: a.north + b.north });

/** @param {Way} way */
export const distance = way => Math.hypot(way.east, way.north);

/** True bearing in [0, 360). @param {Way} way */
export const bearing = way => turn(Math.atan2(way.east, way.north) / RADIANS);

/** Metres a degree of latitude and of longitude, at a latitude. @param {number} lat */
function scale(lat) {
  const sine = Math.sin(lat * RADIANS), root = Math.sqrt(1 - ECCENTRICITY_SQUARED * sine * sine);
  return { lat: SEMI_MAJOR_M * (1 - ECCENTRICITY_SQUARED) / root ** 3 * RADIANS, lon: SEMI_MAJOR_M / root * Math.cos(lat * RADIANS) * RADIANS };
}

/** The way between two fixes. @param {Place} from @param {Place} to @returns {Way} */
export function between(from, to) {
  const metres = scale((from.lat + to.lat) / 2);
  let east = (to.lon - from.lon) % 360;
  if (east > 180) east -= 360;
  if (east < -180) east += 360;
  return { east: east * metres.lon, north: (to.lat - from.lat) * metres.lat };
}

/** The place at the end of a way. @param {Place} from @param {Way} way @returns {Place} */
export function placeAt(from, way) {
  let lat = from.lat;
  for (let i = 0; i < 4; i++) lat = from.lat + way.north / scale((from.lat + lat) / 2).lat;
  const lon = from.lon + way.east / scale((from.lat + lat) / 2).lon;
  return { lat, lon: ((lon + 540) % 360) - 180 };
}
