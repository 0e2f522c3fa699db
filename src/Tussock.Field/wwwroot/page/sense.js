/** What the phone feels: where it is, and which way it points. */
import { circular, turn } from '../wayback/points.js';

const GOOD_M = 5, PATIENCE_MS = 15000, READING_MS = 3000;

/** @typedef {{ lat: number, lon: number, accuracy: number }} Fix */

/** The best fix within fifteen seconds, or the first that is good. @param {(best: Fix) => void} [better] @returns {Promise<Fix>} */
export function fix(better = () => {}) {
  return new Promise((resolve, reject) => {
    /** @type {Fix|null} */ let best = null;
    /** @type {any} */ let timer = 0;
    const end = (/** @type {any} */ fault) => {
      navigator.geolocation.clearWatch(watch);
      clearTimeout(timer);
      if (best) resolve(best); else reject(fault ?? new Error('no fix'));
    };
    const watch = navigator.geolocation.watchPosition(({ coords }) => {
      if (best && coords.accuracy >= best.accuracy) return;
      best = { lat: coords.latitude, lon: coords.longitude, accuracy: coords.accuracy };
      better(best);
      if (best.accuracy <= GOOD_M) end(null);
    }, end, { enableHighAccuracy: true, maximumAge: 0, timeout: PATIENCE_MS });
    timer = setTimeout(() => end(null), PATIENCE_MS);
  });
}

/** Follows where the phone is until told to stop. @param {(at: Fix) => void} here @returns {() => void} */
export function follow(here) {
  const watch = navigator.geolocation.watchPosition(({ coords }) => here({ lat: coords.latitude, lon: coords.longitude, accuracy: coords.accuracy }), () => {}, { enableHighAccuracy: true });
  return () => navigator.geolocation.clearWatch(watch);
}

/** Degrees that the phone points to by its compass; null when it wavers or has none. @returns {Promise<{ mean: number|null, spread: number|null, readings: number }>} */
export async function compass() {
  const asks = /** @type {any} */ (globalThis.DeviceOrientationEvent)?.requestPermission;
  if (asks && await asks.call(globalThis.DeviceOrientationEvent) !== 'granted') return { mean: null, spread: null, readings: 0 };
  /** @type {number[]} */ const readings = [];
  const hear = (/** @type {any} */ e) => {
    const heading = e.webkitCompassHeading ?? (e.absolute && e.alpha !== null ? 360 - e.alpha : null);
    // Headings are of the phone's upper edge; whoever holds it on its side points with another.
    if (heading !== null) readings.push(turn(heading + (screen.orientation?.angle ?? 0)));
  };
  const names = ['deviceorientationabsolute', 'deviceorientation'];
  names.forEach(n => addEventListener(n, hear));
  await new Promise(r => setTimeout(r, READING_MS));
  names.forEach(n => removeEventListener(n, hear));
  return { ...circular(readings), readings: readings.length };
}
