/** Keeps the whole app on the phone: one cache a version, filled before it is used, and answered from first. */

const PREFIX = 'tussock-app-', LIST = 'files.json';
const home = new URL('./', self.location.href).href;

async function versionNow() {
  const answer = await fetch(home + LIST, { cache: 'no-store' });
  if (!answer.ok) throw new Error('no list of files');
  return answer.json();
}

/** A file that is not what the list says: cut short, or changed on the way. */
class Broken extends Error {}

/** @param {Response} answer */
async function hashOf(answer) {
  const hash = new Uint8Array(await crypto.subtle.digest('SHA-256', await answer.arrayBuffer()));
  return Array.from(hash, b => b.toString(16).padStart(2, '0')).join('');
}

/** Tells every window which file is broken; the version that is here stays. @param {unknown} fault */
async function tell(fault) {
  if (fault instanceof Broken) for (const page of await clients.matchAll({ includeUncontrolled: true })) page.postMessage({ broken: fault.message });
}

/** Whether a version is kept, and every file of it is what the list says. @param {Cache} cache @param {{ files: { path: string, sha256: string }[] }} list */
async function isWhole(cache, list) {
  if (!await cache.match(home + LIST)) return false;
  for (const f of list.files) {
    const kept = await cache.match(home + f.path);
    if (!kept || await hashOf(kept) !== f.sha256) return false;
  }
  return true;
}

/** Fills the cache of the newest version, whole or not at all. */
async function fill() {
  const list = await versionNow(), name = PREFIX + list.version;
  const cache = await caches.open(name);
  if (await isWhole(cache, list)) return name;
  await Promise.all(list.files.map(async f => {
    const answer = await fetch(new Request(home + f.path, { cache: 'no-cache' }));
    if (!answer.ok) throw new Error(f.path);
    if (await hashOf(answer.clone()) !== f.sha256) throw new Broken(f.path);
    await cache.put(home + f.path, answer);
  }));
  // The list goes in last: a cache with it is whole.
  await cache.put(home + LIST, new Response(JSON.stringify(list), { headers: { 'Content-Type': 'application/json' } }));
  return name;
}

/** Looked for once a life of the worker: dozens of files come at each start. @type {Promise<Cache|null>|null} */
let whole = null;
const kept = () => whole ??= newestWhole().then(found => { if (!found) whole = null; return found; });

async function newestWhole() {
  const names = (await caches.keys()).filter(n => n.startsWith(PREFIX));
  for (const name of names.reverse()) {
    const cache = await caches.open(name);
    if (await cache.match(home + LIST)) return cache;
  }
  return null;
}

self.addEventListener('install', event => event.waitUntil(fill().then(() => self.skipWaiting(), fault => tell(fault).then(() => { throw fault; }))));

self.addEventListener('activate', event => event.waitUntil(clients.claim()));

/** The page asks at its start: a newer version is fetched behind it, and used from the next start on. */
self.addEventListener('message', event => {
  if (event.data !== 'renew') return;
  event.waitUntil((async () => {
    const name = await fill();
    whole = null;
    for (const old of await caches.keys()) if (old.startsWith(PREFIX) && old !== name) await caches.delete(old);
  })().catch(tell));
});

self.addEventListener('fetch', event => {
  const address = new URL(event.request.url);
  if (event.request.method !== 'GET' || !address.href.startsWith(home) || address.pathname.includes('/api/')) return;
  event.respondWith((async () => {
    const cache = await kept();
    const path = event.request.mode === 'navigate' ? home + 'index.html' : home + address.href.slice(home.length).split(/[?#]/)[0];
    return (cache && await cache.match(path)) ?? fetch(event.request);
  })());
});
