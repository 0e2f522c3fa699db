/** Ids of version 7: they grow on one device whatever its clock does. */

const RANDOM_BITS = 74n;

/** @param {string} id @returns {bigint} time and chance without the six fixed bits */
function number(id) {
  const all = BigInt('0x' + id.replaceAll('-', ''));
  return ((all >> 80n) << RANDOM_BITS) | (((all >> 64n) & 0xfffn) << 62n) | (all & 0x3fffffffffffffffn);
}

/** @param {bigint} n @returns {string} */
function text(n) {
  const time = n >> RANDOM_BITS, high = (n >> 62n) & 0xfffn, low = n & 0x3fffffffffffffffn;
  const hex = ((time << 80n) | (7n << 76n) | (high << 64n) | (2n << 62n) | low).toString(16).padStart(32, '0');
  return [hex.slice(0, 8), hex.slice(8, 12), hex.slice(12, 16), hex.slice(16, 20), hex.slice(20)].join('-');
}

/**
 * The next id: of this moment, or one more than the last where the clock stands still or fell behind.
 * @param {string} last the last id of this device, or ''
 * @param {number} now milliseconds since 1970
 */
export function nextId(last, now) {
  const chance = crypto.getRandomValues(new BigUint64Array(2));
  const fresh = (BigInt(Math.max(0, Math.floor(now))) << RANDOM_BITS) | ((chance[0] & 0xfffn) << 62n) | (chance[1] >> 2n);
  const least = last ? number(last) + 1n : 0n;
  return text(fresh > least ? fresh : least);
}

/** @param {ArrayBuffer|Uint8Array} bytes @returns {Promise<string>} SHA-256 in lower-case hexadecimal digits */
export async function sha256(bytes) {
  const hash = new Uint8Array(await crypto.subtle.digest('SHA-256', /** @type {BufferSource} */ (bytes)));
  return Array.from(hash, b => b.toString(16).padStart(2, '0')).join('');
}
