/** The phone's file: the same changes a line each, for a stick or a message; the last line says that it is whole. */
import { sha256 } from './ids.js';

/** @param {import('./phone-log.js').PhoneLog} log @returns {Promise<Blob>} */
export async function exported(log) {
  const { self, outbox } = log, media = [];
  for (const [hash, state] of log.media) {
    const medium = state === 'waiting' ? await log.mediumBytes(hash) : undefined;
    if (medium) media.push(medium);
  }
  const lines = [{ format: 'field-log/1', device: self.device, name: self.name, season: log.bundle?.season.id ?? self.season, changes: outbox.length, media: media.length }, ...outbox.map(e => e.change)]
    .map(l => JSON.stringify(l));
  for (const medium of media) lines.push(JSON.stringify({ media: medium.sha256, type: medium.type, base64: base64(new Uint8Array(await medium.bytes.arrayBuffer())) }));
  const before = lines.join('\n') + '\n';
  const hash = await sha256(new TextEncoder().encode(before));
  return new Blob([before, JSON.stringify({ end: true, sha256: hash }), '\n'], { type: 'application/x-ndjson' });
}

/** @param {Uint8Array} bytes */
function base64(bytes) {
  let text = '';
  for (let i = 0; i < bytes.length; i += 32768) text += String.fromCharCode(...bytes.subarray(i, i + 32768));
  return btoa(text);
}

/** @param {string} phone @param {string} date */
export const fileName = (phone, date) => `tussock-${phone.replace(/[^\p{L}\p{N}]+/gu, '-') || 'phone'}-${date}.jsonl`;
