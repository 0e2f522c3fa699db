/** The phone's own database: four shelves, and transactions that are on disk before they answer. */

const NAME = 'tussock-field', VERSION = 1;
/** @typedef {'snapshot'|'outbox'|'media'|'meta'} Shelf */

/** Said when the phone has no room: nothing of the touch was kept, everything earlier was. */
export class StorageFull extends Error {}

/** @param {string} [name] @returns {Promise<IDBDatabase>} */
export function open(name = NAME) {
  return new Promise((resolve, reject) => {
    const asked = indexedDB.open(name, VERSION);
    asked.onupgradeneeded = () => {
      asked.result.createObjectStore('snapshot');
      asked.result.createObjectStore('outbox', { keyPath: 'id' });
      asked.result.createObjectStore('media', { keyPath: 'sha256' });
      asked.result.createObjectStore('meta');
    };
    asked.onsuccess = () => resolve(asked.result);
    asked.onerror = () => reject(asked.error);
  });
}

/** @template T @param {IDBRequest<T>} request @returns {Promise<T>} */
export function answer(request) {
  return new Promise((resolve, reject) => {
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error);
  });
}

/**
 * Runs work in one transaction that waits for the disk. Work may only wait for requests of that transaction.
 * @template T @param {IDBDatabase} db @param {Shelf[]} shelves @param {(tx: IDBTransaction) => Promise<T>} work @returns {Promise<T>}
 */
export function write(db, shelves, work) {
  return new Promise((resolve, reject) => {
    const tx = db.transaction(shelves, 'readwrite', { durability: 'strict' });
    /** @type {T} */ let made;
    /** @type {unknown} */ let fault = null;
    tx.oncomplete = () => resolve(made);
    tx.onabort = () => reject(isFull(tx.error) || isFull(fault) ? new StorageFull('storage full') : fault ?? tx.error);
    work(tx).then(value => { made = value; }, reason => {
      fault = reason;
      try { tx.abort(); } catch { reject(reason); }
    });
  });
}

/** @template T @param {IDBDatabase} db @param {Shelf} shelf @param {(store: IDBObjectStore) => IDBRequest<T>} ask @returns {Promise<T>} */
export function read(db, shelf, ask) {
  return answer(ask(db.transaction(shelf, 'readonly').objectStore(shelf)));
}

/** @param {unknown} error */
function isFull(error) {
  return error instanceof DOMException && error.name === 'QuotaExceededError';
}
