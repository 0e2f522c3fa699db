/** The phone's log: snapshot, outbox, media and who this phone is. No page code: tests drive this very module. */
import { nextId, sha256 } from './ids.js';
import { answer, open, read, write } from './storage.js';
import { apply, isVoid, rowsOf } from './overlay.js';
import { exported } from './file.js';
import { send } from './sending.js';

/** @typedef {import('./types.js').Said} Said @typedef {import('./types.js').Entry} Entry @typedef {import('./types.js').Row} Row
 * @typedef {import('./types.js').Self} Self @typedef {import('./types.js').Change} Change @typedef {import('./types.js').Medium} Medium */

export const SOURCE = 'field app 1', CONTRACT = 'field/1';
const FORMAT = 1;
/** @type {Self} */ const NOBODY = { device: '', key: '', season: '', name: '', seq: 0, last_id: '', etag: '' };

/** A bundle that can't be taken in; `why` names the reason. */
export class Refused extends Error {
  /** @param {'other_file'|'other_season'|'older'} why */
  constructor(why) { super(why); this.why = why; }
}

export class PhoneLog {
  /** @type {Map<string, Row>} */ rows = new Map();
  /** @type {Entry[]} */ outbox = [];
  /** @type {any} */ bundle = null;
  /** @type {Self} */ self = { ...NOBODY };
  /** @type {Map<string, 'waiting'|'sent'>} */ media = new Map();
  /** Grows with every change of what the screen shows. */
  version = 0;
  /** Called after every change of what the screen shows. */
  changed = () => {};

  /** @param {IDBDatabase} db @param {() => number} now */
  constructor(db, now) {
    this.db = db;
    this.now = now;
    this.channel = new BroadcastChannel(db.name);
    this.channel.onmessage = () => this.reload();
  }

  /** Opens the log as it was left. @param {{ name?: string, now?: () => number }} [how] */
  static async open({ name, now = Date.now } = {}) {
    const log = new PhoneLog(await open(name), now);
    await log.reload();
    return log;
  }

  close() {
    this.channel.close();
    this.db.close();
  }

  /** @type {Promise<unknown>} */ #last = Promise.resolve();

  /** One thing after another: a touch must see the touch before it. @template T @param {() => Promise<T>} work @returns {Promise<T>} */
  #alone(work) {
    const made = this.#last.then(work);
    this.#last = made.catch(() => {});
    return made;
  }

  /** Reads everything again: another tab has written. */
  reload() { return this.#alone(() => this.#read()); }

  async #read() {
    const [bundle, entries, self, media] = await Promise.all([
      read(this.db, 'snapshot', s => s.get('bundle')), read(this.db, 'outbox', s => s.getAll()),
      read(this.db, 'meta', s => s.get('self')), read(this.db, 'media', s => s.getAll())]);
    this.bundle = bundle ?? null;
    this.outbox = entries;
    this.self = self ?? { ...NOBODY };
    this.media = new Map(media.map(m => [m.sha256, m.state]));
    this.refold();
  }

  refold() {
    this.rows = rowsOf(this.bundle);
    for (const entry of this.outbox) apply(this.rows, entry.change);
    this.version++;
    this.changed();
  }

  /** Rows of a kind that are not void. @param {string} kind @returns {Row[]} */
  all(kind) {
    return [...this.rows.values()].filter(r => r.kind === kind && !isVoid(r));
  }

  /** The next id that this device has not used, for a new record. @returns {string} */
  newRecord() { return crypto.randomUUID(); }

  /**
   * One touch: all of it is on disk when this answers, or nothing of it.
   * @param {Said[]|(() => Said[])} said a function is asked when all earlier touches are in @param {{ by: string, media?: Medium[] }} how @returns {Promise<Entry[]>}
   */
  touch(said, how) { return this.#alone(() => this.#touch(typeof said === 'function' ? said() : said, how)); }

  /** @param {Said[]} said @param {{ by: string, media?: Medium[] }} how @returns {Promise<Entry[]>} */
  async #touch(said, { by, media = [] }) {
    const [entries, now] = await write(this.db, ['outbox', 'meta', 'media'], async tx => {
      const self = (await answer(tx.objectStore('meta').get('self'))) ?? { ...NOBODY, device: crypto.randomUUID() };
      const made = this.#entries(said, by, self);
      for (const entry of made) tx.objectStore('outbox').add(entry);
      for (const medium of media) if (!this.media.has(medium.sha256)) tx.objectStore('media').put(medium);
      tx.objectStore('meta').put(self, 'self');
      return /** @type {[Entry[], Self]} */ ([made, self]);
    });
    this.self = now;
    for (const medium of media) if (!this.media.has(medium.sha256)) this.media.set(medium.sha256, 'waiting');
    this.outbox.push(...entries);
    for (const entry of entries) apply(this.rows, entry.change);
    this.version++;
    this.channel.postMessage('touched');
    this.changed();
    return entries;
  }

  /** @param {Said[]} said @param {string} by @param {Self} self @returns {Entry[]} */
  #entries(said, by, self) {
    const now = this.now();
    const batch = self.last_id = nextId(self.last_id, now);
    return said.map(one => {
      const record = one.record ?? this.newRecord(), row = this.rows.get(record);
      /** @type {Change} */ const change = {
        id: self.last_id = nextId(self.last_id, now), batch, device: self.device, device_seq: ++self.seq, season: this.bundle?.season.id ?? self.season, kind: one.kind, record,
        op: one.op ?? (row ? 'set' : 'create'), fields: {}, by, said_at: new Date(now).toISOString(), offset_min: -new Date(now).getTimezoneOffset(), source: SOURCE, format: FORMAT };
      /** @type {Record<string, string>} */ const before = {};
      for (const [name, text] of Object.entries(one.fields)) {
        change.fields[name] = { value: text, replaces: row?.fields[name]?.heads ?? [] };
        before[name] = row?.fields[name]?.value ?? '';
      }
      return { id: change.id, change, before, state: 'waiting', position: 0, why: '' };
    });
  }

  /** The touches of this phone that can still be taken back, the newest first: each with its entries. @returns {{ batch: string, entries: Entry[] }[]} */
  history() {
    /** @type {Map<string, Entry[]>} */ const touches = new Map();
    for (const entry of this.outbox) touches.set(entry.change.batch, [...touches.get(entry.change.batch) ?? [], entry]);
    return [...touches].map(([batch, entries]) => ({ batch, entries })).reverse();
  }

  /** Whether every value of a touch is still the one shown. @param {string} batch */
  canUndo(batch) {
    const entries = this.outbox.filter(e => e.change.batch === batch);
    return entries.length > 0 && entries.every(e => {
      const row = this.rows.get(e.change.record);
      return row && (e.change.op === 'void' || !isVoid(row)) && Object.keys(e.change.fields).every(f => row.fields[f]?.heads.includes(e.id));
    });
  }

  /** Takes a touch back by a new one: former values return, new records become void. @param {string} batch @param {{ by: string }} how */
  undo(batch, how) {
    return this.touch(() => this.outbox.filter(e => e.change.batch === batch).reverse().map(({ change, before }) => change.op === 'create'
      ? { kind: change.kind, record: change.record, op: 'void', fields: { '#void': 'yes' } }
      : { kind: change.kind, record: change.record, op: 'set', fields: before }), how);
  }

  /** Keeps who this phone is. @param {Partial<Self>} part */
  async become(part) {
    this.self = await this.#alone(() => write(this.db, ['meta'], async tx => {
      const self = { ...NOBODY, ...await answer(tx.objectStore('meta').get('self')), ...part };
      // A new device numbers from one: numbers are a device's own.
      if (part.device && part.device !== this.self.device) self.seq = 0;
      tx.objectStore('meta').put(self, 'self');
      return self;
    }));
    this.channel.postMessage('became');
    this.changed();
  }

  /** A setting of this phone. @param {string} name */
  setting(name) { return read(this.db, 'meta', s => s.get('setting ' + name)); }

  /** @param {string} name @param {unknown} what */
  async keep(name, what) { await write(this.db, ['meta'], async tx => { tx.objectStore('meta').put(what, 'setting ' + name); }); }

  /**
   * Takes a snapshot in. An accepted change goes when the snapshot is at least as new as the answer that accepted it.
   * @param {any} bundle @param {{ etag?: string, isFromDesk?: boolean }} [how]
   */
  takeIn(bundle, how = {}) { return this.#alone(() => this.#takeIn(bundle, how)); }

  /** @param {any} bundle @param {{ etag?: string, isFromDesk?: boolean }} how */
  async #takeIn(bundle, { etag = '', isFromDesk = false }) {
    if (bundle?.contract !== CONTRACT || typeof bundle.position !== 'number') throw new Refused('other_file');
    if (this.bundle && this.bundle.season.id !== bundle.season.id && this.outbox.length > 0) throw new Refused('other_season');
    if (this.bundle?.season.id === bundle.season.id && !isFromDesk && bundle.position < this.bundle.position) throw new Refused('older');
    // A file brings the pictures of practice along; they stand beside the snapshot, which is read at every start.
    const { practice_views: views, ...rest } = bundle;
    await write(this.db, ['snapshot', 'outbox', 'meta'], async tx => {
      const outbox = tx.objectStore('outbox');
      tx.objectStore('snapshot').put(rest, 'bundle');
      if (views) tx.objectStore('snapshot').put(views, 'views');
      else if (!rest.practice?.from_here) tx.objectStore('snapshot').delete('views');
      for (const entry of await answer(outbox.getAll())) {
        if (entry.state !== 'accepted') continue;
        if (entry.position <= bundle.position) outbox.delete(entry.id);
        // The desk went back to an older copy of its data: it must hear this again.
        else if (isFromDesk) outbox.put({ ...entry, state: 'waiting', position: 0 });
      }
      const self = { ...NOBODY, device: crypto.randomUUID(), ...await answer(tx.objectStore('meta').get('self')), season: bundle.season.id, etag };
      tx.objectStore('meta').put(self, 'self');
    });
    this.channel.postMessage('snapshot');
    await this.#read();
  }

  /** Which pictures of practice are here. @returns {Promise<string|undefined>} */
  async viewsSet() { return (await read(this.db, 'snapshot', s => s.get('views')))?.set; }

  /** @param {{ set: string, views: Record<string, string> }} views */
  async keepViews({ set, views }) { await write(this.db, ['snapshot'], async tx => { tx.objectStore('snapshot').put({ set, views }, 'views'); }); }

  /** A picture of practice as an address of its own; nothing where it is not here yet. @param {string} hash @returns {Promise<string|undefined>} */
  async view(hash) {
    const kept = (await read(this.db, 'snapshot', s => s.get('views')))?.views[hash];
    return kept && 'data:image/jpeg;base64,' + kept;
  }

  /** Marks what the desk said of entries. @param {{ accepted: string[], refused: { id: string, why: string }[], position: number }} said */
  hear(said) { return this.#alone(() => this.#hear(said)); }

  /** @param {{ accepted: string[], refused: { id: string, why: string }[], position: number }} said */
  async #hear(said) {
    const why = new Map(said.refused.map(r => [r.id, r.why]));
    await write(this.db, ['outbox'], async tx => {
      const outbox = tx.objectStore('outbox');
      for (const id of [...said.accepted, ...why.keys()]) {
        const entry = id && await answer(outbox.get(id));
        if (entry) outbox.put({ ...entry, state: why.has(id) ? 'refused' : 'accepted', position: said.position, why: why.get(id) ?? '' });
      }
    });
    await this.#read();
  }

  /** Makes a photo or voice note ready for a touch. @param {Blob} blob @returns {Promise<Medium>} */
  async medium(blob) {
    return { sha256: await sha256(await blob.arrayBuffer()), type: blob.type || 'application/octet-stream', bytes: blob, state: 'waiting' };
  }

  /** @param {string} hash @returns {Promise<Medium|undefined>} */
  mediumBytes(hash) { return read(this.db, 'media', s => s.get(hash)); }

  /** @param {string} hash */
  async mediumSent(hash) {
    await write(this.db, ['media'], async tx => {
      const medium = await answer(tx.objectStore('media').get(hash));
      if (medium) tx.objectStore('media').put({ ...medium, state: 'sent' });
    });
    this.media.set(hash, 'sent');
  }

  /** Lets go of photos that are at the desk: it confirmed all their bytes, and the snapshot shows their record. Nothing goes before both. */
  freeMedia() { return this.#alone(() => this.#freeMedia()); }

  async #freeMedia() {
    const shown = new Set((this.bundle?.records.media ?? []).map((/** @type {any} */ r) => r.fields.media?.[0]));
    const held = [...this.media].filter(([hash, state]) => state === 'sent' && shown.has(hash)).map(([hash]) => hash);
    if (!held.length) return;
    await write(this.db, ['media'], async tx => { for (const hash of held) tx.objectStore('media').delete(hash); });
    for (const hash of held) this.media.delete(hash);
  }

  /** What is on this phone only. */
  unsent() {
    return { changes: this.outbox.filter(e => e.state === 'waiting').length, refused: this.outbox.filter(e => e.state === 'refused').length, photos: [...this.media.values()].filter(s => s === 'waiting').length };
  }

  /** Sends what waits and takes the newest snapshot. One tab sends at a time. @param {typeof globalThis.fetch} [ask] */
  send(ask = (...a) => fetch(...a)) {
    return navigator.locks.request(this.db.name + ' send', () => send(this, ask));
  }

  /** Everything on this phone as a file. @returns {Promise<Blob>} */
  async copy() { return exported(this); }
}
