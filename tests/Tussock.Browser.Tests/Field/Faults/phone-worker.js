// A phone that can be killed at any moment: the app's own log on a thread of its own.
// Asked for by messages { ask, … }; answers { ask, ok, … }. Everything that happens by chance comes from the story's seed.
let log, random, clock = 0, isFull = false;

// Storage that refuses as browsers do: in the middle of a transaction.
const put = IDBObjectStore.prototype.put, add = IDBObjectStore.prototype.add;
const refusing = real => function (...asked) {
  if (isFull && random() < .5) throw new DOMException('no room', 'QuotaExceededError');
  return real.apply(this, asked);
};
IDBObjectStore.prototype.put = refusing(put);
IDBObjectStore.prototype.add = refusing(add);

/** Messages that were lost on the way and may still arrive, weeks late. */
const late = [];

/** A network with every fault at once. */
async function flaky(address, how) {
  const isSync = how?.method === 'POST', dice = random();
  if (dice < .12) throw new TypeError('lost on the way');
  if (isSync && dice < .18) { late.push([address, how]); throw new TypeError('late'); }
  if (isSync && dice < .24) {
    await fetch(address, { ...how, body: how.body.slice(0, Math.floor(how.body.length * random())) }).catch(() => {});
    throw new TypeError('cut');
  }
  let sent = how;
  if (isSync && dice < .40) {
    // Only some of it comes, in another order: a change may come before the one that made its record.
    const message = JSON.parse(how.body);
    message.changes = message.changes.map(c => [random(), c]).sort((a, b) => a[0] - b[0]).map(p => p[1]).slice(0, Math.max(1, Math.floor(message.changes.length * random())));
    sent = { ...how, body: JSON.stringify(message) };
  }
  const answer = await fetch(address, sent);
  if (isSync && random() < .2) await fetch(address, how).catch(() => {});
  if (random() < .15) throw new TypeError('answer lost');
  return answer;
}

const FINDINGS = ['intact', 'depredated', 'other_loss', 'not_relocated'];

/** One touch of a random kind. @returns what was said */
function something() {
  const visits = log.all('visits'), dice = random();
  if (dice < .25 && visits.length > 0) {
    const row = visits[Math.floor(random() * visits.length)];
    return [{ kind: 'visits', record: row.id, fields: { finding: FINDINGS[Math.floor(random() * 4)], note: 'changed ' + random() } }];
  }
  if (dice < .35) {
    const nests = log.all('nests');
    return nests.length === 0 ? [{ kind: 'nests', fields: { transect: 'T1', nest: String(1 + Math.floor(random() * 99)) } }]
      : [{ kind: 'nests', record: nests[Math.floor(random() * nests.length)].id, fields: { steps: String(Math.floor(random() * 40)) } }];
  }
  const visit = { kind: 'visits', fields: { transect: 'T1', nest: String(1 + Math.floor(random() * 6)), visited_on: '2026-05-18', finding: FINDINGS[Math.floor(random() * 4)] } };
  if (dice < .55) return [visit, { kind: 'remains', fields: { transect: 'T1', nest: '1', visited_on: '2026-05-18', sign: 'eggs_missing', value: String(1 + Math.floor(random() * 3)) } }];
  return [visit];
}

const asks = {
  async open({ base, name, seed, off }) {
    const from = path => import(base + path);
    const [{ PhoneLog }, sending] = await Promise.all([from('log/phone-log.js'), from('log/sending.js')]);
    random = seeded(seed); clock = off;
    // The app asks beside its own page; a worker's address is another.
    const real = globalThis.fetch.bind(globalThis);
    globalThis.fetch = (address, how) => real(new URL(address, base), how);
    log = await PhoneLog.open({ name, now: () => Date.now() + clock });
    self.pairing = sending.pair;
    return { entries: log.outbox.map(e => e.change), device: log.self.device, key: log.self.key !== '' };
  },
  async pair({ name }) {
    await self.pairing(log, '', name);
    return {};
  },
  async touch() {
    const before = log.outbox.length;
    try {
      return { entries: (await log.touch(something, { by: 'crew 1' })).map(e => e.change) };
    } catch (fault) {
      if (fault?.message !== 'storage full') throw fault;
      if (log.outbox.length !== before) throw new Error('a touch that did not fit left something behind');
      return { full: true };
    }
  },
  async undo() {
    const able = log.history().filter(h => log.canUndo(h.batch));
    return able.length === 0 ? {} : { entries: (await log.undo(able[Math.floor(random() * able.length)].batch, { by: 'crew 1' })).map(e => e.change) };
  },
  async photo({ size }) {
    const bytes = new Uint8Array(size).map((_, i) => (i * 31 + size) & 255), medium = await log.medium(new Blob([bytes], { type: 'image/jpeg' }));
    return { entries: (await log.touch([{ kind: 'media', fields: { media: medium.sha256, transect: 'T1' } }], { by: 'crew 1', media: [medium] })).map(e => e.change), photo: medium.sha256 };
  },
  async send() {
    if (log.bundle) log.bundle.limits.changes_a_message = 1 + Math.floor(random() * 6);
    try { await log.send(flaky); } catch (fault) { return { fault: String(fault) }; }
    return {};
  },
  async late() {
    // What was lost comes after all, the newest first, now and then twice.
    for (const [address, how] of late.splice(0).reverse()) for (let n = random() < .3 ? 2 : 1; n > 0; n--) await fetch(address, how).catch(() => {});
    return {};
  },
  async clock({ off }) { clock = off; return {}; },
  async full({ is }) { isFull = is; return {}; },
  async file() { return { text: await (await log.copy()).text() }; },
  async heal() {
    isFull = false;
    await log.send((...a) => fetch(...a));
    return { left: log.outbox.length, refused: log.outbox.filter(e => e.state === 'refused').map(e => e.why), photos: log.unsent().photos };
  },
  async state() {
    const rows = [...log.rows.values()].map(r => [r.kind, r.id, Object.entries(r.fields).map(([k, v]) => [k, v.value, [...v.heads].sort()]).sort()]).sort();
    return { rows: JSON.stringify(rows), position: log.bundle.position };
  },
};

onmessage = async ({ data }) => {
  try { postMessage({ n: data.n, ok: true, ...await asks[data.ask](data) }); } catch (fault) { postMessage({ n: data.n, ok: false, why: String(fault?.stack ?? fault) }); }
};
