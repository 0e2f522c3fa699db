/** Keeps the whole app on the phone: one cache a version, filled before it is used, and answered from first. */

const PREFIX = 'tussock-app-', LIST = 'files.json';
const home = new URL('./', self.location.href).href;

async function versionNow() {
  const answer = await fetch(home + LIST, { cache: 'no-store' });
  if (!answer.ok) throw new Error('no list of files');
  return answer.json();
}

/** Fills the cache of the newest version, whole or not at all. */
async function fill() {
  const list = await versionNow(), name = PREFIX + list.version;
  if ((await caches.keys()).includes(name) && await (await caches.open(name)).match(home + LIST)) return name;
  const cache = await caches.open(name);
  await cache.addAll(list.files.map(f => new Request(home + f.path, { cache: 'no-cache' })));
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

self.addEventListener('install', event => event.waitUntil(fill().then(() => self.skipWaiting())));

self.addEventListener('activate', event => event.waitUntil(clients.claim()));

/** The page asks at its start: a newer version is fetched behind it, and used from the next start on. */
self.addEventListener('message', event => {
  if (event.data !== 'renew') return;
  event.waitUntil((async () => {
    const name = await fill();
    whole = null;
    for (const old of await caches.keys()) if (old.startsWith(PREFIX) && old !== name) await caches.delete(old);
  })().catch(() => {}));
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
