/** Talking to the desk: changes in pieces, photos by the byte, then the newest snapshot. */

/** @typedef {import('./phone-log.js').PhoneLog} PhoneLog @typedef {typeof globalThis.fetch} Ask */

const PIECE_BYTES = 262144, LEAST_PIECE_BYTES = 16384, ENVELOPE_BYTES = 4096, TOO_BIG = 413;
const API = 'api/';

/** The desk said no; `why` is its own sentence. */
export class DeskSaidNo extends Error {
  /** @param {number} status @param {string} why */
  constructor(status, why) { super(why); this.status = status; this.why = why; }
}

/** @param {Response} response @returns {Promise<any>} */
async function json(response) {
  if (response.ok) return response.json();
  /** @type {any} */ let said = null;
  try { said = await response.json(); } catch { said = null; }
  throw new DeskSaidNo(response.status, said?.why ?? '');
}

/** @param {PhoneLog} log */
const headers = log => ({ Authorization: 'Bearer ' + log.self.key });

/** Lets this phone in, to one season: where the desk has several and none is named yet, it is not in, and they are what comes back.
 * @param {PhoneLog} log @param {string} code @param {string} name @param {string} season @param {Ask} ask @returns {Promise<{id: string, name: string}[]>} */
export async function pair(log, code, name, season = '', ask = (...a) => fetch(...a)) {
  const said = await json(await ask(API + 'pair', { method: 'POST', headers: { 'Content-Type': 'application/json' }, body: JSON.stringify({ code, name, season }) }));
  if (said.choose) return said.choose;
  await log.become({ device: said.device, key: said.key, season: said.season, name, etag: '' });
  return [];
}

/** @param {PhoneLog} log @param {Ask} ask */
export async function send(log, ask) {
  await log.reload();
  let most = Infinity;
  for (let piece = next(log, most); piece.length > 0; piece = next(log, most)) {
    const response = await ask(API + 'sync', {
      method: 'POST', headers: { ...headers(log), 'Content-Type': 'application/json' },
      body: JSON.stringify({ device: log.self.device, position: log.bundle?.position ?? 0, changes: piece }) });
    if (response.status === TOO_BIG && piece.length > 1) {
      most = Math.ceil(piece.length / 2);
      continue;
    }
    // One change that is too big alone must not keep the others back: it goes out with the file.
    await log.hear(response.status === TOO_BIG ? { accepted: [], refused: [{ id: piece[0].id, why: await whyNot(response) }], position: 0 } : await json(response));
    // An answer that settles nothing of what was sent must not be asked for again and again.
    if (log.outbox.some(e => e.id === piece[0].id && e.state === 'waiting')) throw new DeskSaidNo(200, '');
  }
  await fetchBundle(log, ask);
  await sendMedia(log, ask);
  await log.freeMedia();
  // Pictures to practise on can wait: what was recorded has gone out by now, and must not seem unsent.
  await fetchViews(log, ask).catch(() => {});
}

/** @param {Response} response @returns {Promise<string>} the sentence of an answer that says no */
const whyNot = response => json(response).then(() => '', fault => fault.why);

/** The next piece of what waits, within the limits of a message. @param {PhoneLog} log @param {number} atMost changes that whatever lies between let through */
function next(log, atMost) {
  const most = Math.min(atMost, log.bundle?.limits.changes_a_message ?? 500), bytes = (log.bundle?.limits.message_bytes ?? 1048576) - ENVELOPE_BYTES;
  const piece = [];
  let size = 0;
  for (const entry of log.outbox) {
    if (entry.state !== 'waiting') continue;
    size += new TextEncoder().encode(JSON.stringify(entry.change)).length + 1;
    if (piece.length === most || (size > bytes && piece.length > 0)) break;
    piece.push(entry.change);
  }
  return piece;
}

/** @param {PhoneLog} log @param {Ask} ask */
async function fetchBundle(log, ask) {
  const etag = log.self.etag;
  const response = await ask(API + 'bundle', { headers: { ...headers(log), ...(etag && log.bundle ? { 'If-None-Match': etag } : {}) }, cache: 'no-store' });
  if (response.status === 304) return;
  await log.takeIn(await json(response), { etag: response.headers.get('ETag') ?? '', isFromDesk: true });
}

/** Pictures of the cases from here, where the snapshot names others than are here. An older desk has none. @param {PhoneLog} log @param {Ask} ask */
async function fetchViews(log, ask) {
  const set = log.bundle?.practice?.from_here?.set;
  if (!set || await log.viewsSet() === set) return;
  const response = await ask(API + 'practice', { headers: headers(log), cache: 'no-store' });
  if (response.ok) await log.keepViews(await response.json());
}

/** @param {PhoneLog} log @param {Ask} ask */
async function sendMedia(log, ask) {
  for (const [hash, state] of log.media) {
    if (state === 'sent') continue;
    const medium = await log.mediumBytes(hash);
    if (medium && await sendOne(log, ask, hash, medium.bytes)) await log.mediumSent(hash);
  }
}

/** @param {PhoneLog} log @param {Ask} ask @param {string} hash @param {Blob} bytes @returns {Promise<boolean>} whether the desk has all of it */
async function sendOne(log, ask, hash, bytes) {
  const address = API + 'media/' + hash;
  const there = await ask(address, { method: 'HEAD', headers: headers(log) });
  if (!there.ok && there.status !== 404) throw new DeskSaidNo(there.status, '');
  let offset = there.ok ? Number(there.headers.get('Upload-Offset')) : 0, turns = 0, most = PIECE_BYTES;
  while (offset < bytes.size) {
    const response = await ask(address, {
      method: 'PATCH', body: bytes.slice(offset, offset + most),
      headers: { ...headers(log), 'Content-Type': 'application/octet-stream', 'Upload-Offset': String(offset), 'Upload-Length': String(bytes.size) } });
    if (response.status === 422) return false;
    if (response.status === TOO_BIG && most > LEAST_PIECE_BYTES) {
      most /= 2;
      continue;
    }
    if (response.status === TOO_BIG) return false;
    if (!response.ok && response.status !== 409) await json(response);
    if (response.status === 409 && ++turns > 5) return false;
    offset = Number(response.headers.get('Upload-Offset'));
  }
  return true;
}
