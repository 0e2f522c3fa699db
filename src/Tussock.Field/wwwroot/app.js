/** The page: opens the log, knows the routes, draws one screen at a time. */
import { PhoneLog, Refused } from './log/phone-log.js';
import { StorageFull } from './log/storage.js';
import { DeskSaidNo } from './log/sending.js';
import { dateIn, timeIn } from './wayback/days.js';
import { button, el } from './page/dom.js';
import { speaker } from './page/words.js';
import { REFUSED, start } from './screens/start.js';
import { today } from './screens/today.js';
import { line } from './screens/line.js';
import { setOut } from './screens/set-out.js';
import { check } from './screens/check.js';
import { lost } from './screens/lost.js';
import { search } from './screens/search.js';
import { tally } from './screens/tally.js';
import { calibrate } from './screens/calibrate.js';
import { pickUp } from './screens/pick-up.js';
import { realNest } from './screens/real-nest.js';
import { phone, told } from './screens/phone.js';
import { practice } from './screens/practice.js';
import { reading } from './screens/reading.js';
import { elsewhere } from './screens/elsewhere.js';
import { isOverdue, overdue } from './screens/lone-worker.js';
import { onlyWindow } from './page/only-window.js';
import { watchInstall } from './page/install.js';

/** @typedef {import('./log/types.js').Said} Said @typedef {import('./log/types.js').Medium} Medium */

const WAIT_MS = 30, GRAVE_MS = 15000, TOLD_MS = 3000, JUST_MS = 1000, CLOCK_MS = 5000;
const SCREENS = /** @type {Record<string, (app: App, ...args: string[]) => Node>} */ ({
  start, today, transect: line, 'set-out': setOut, check, lost, search, tally, calibrate, 'pick-up': pickUp, 'real-nest': realNest, phone, practice, reading });

export class App {
  /** @type {Record<string, any>} */ settings = {};
  /** What a screen keeps while it is open. @type {Record<string, any>} */ scratch = {};
  /** Another window of this phone writes. */
  isElsewhere = false;
  isDrawing = false;
  isSending = false;

  /** @param {PhoneLog} log */
  constructor(log) {
    this.log = log;
    this.language = 'en';
    this.say = speaker(log.bundle, this.language);
    log.changed = () => this.draw();
  }

  get zone() { return this.log.bundle?.season.time_zone ?? ''; }
  get today() { return dateIn(Date.now(), this.zone); }
  get time() { return timeIn(Date.now(), this.zone); }
  get walker() { return this.settings.walker ?? ''; }

  /** Speaks the language that was chosen, else the phone's own, else English. */
  speak() {
    const own = navigator.language.split('-')[0], has = (/** @type {string} */ l) => !!this.log.bundle?.words[l];
    this.language = [this.settings.language, own].find(l => l && has(l)) ?? 'en';
    document.documentElement.lang = this.language;
    this.say = speaker(this.log.bundle, this.language);
  }

  /** @param {string} name @param {unknown} what */
  async set(name, what) {
    this.settings[name] = what;
    await this.log.keep(name, what);
    this.draw();
  }

  /** One touch; true when it is on disk. @param {Said[]|(() => Said[])} said @param {Medium[]} [media] @param {{ isLast?: boolean }} [how] the last touch of a screen: whoever asks draws the next one, and this one is not drawn again before */
  async touch(said, media = [], { isLast = false } = {}) {
    if (this.isElsewhere) return false;
    try {
      if (isLast) this.isLeaving = true;
      const made = await this.log.touch(said, { by: this.walker, media });
      this.hear(made.map(e => told(this, e)).join('. '));
      return true;
    } catch (fault) {
      this.tell(this.say(fault instanceof StorageFull ? 'storage_full' : 'not_written'), true);
      return false;
    } finally { this.isLeaving = false; }
  }
  isLeaving = false;

  /** Takes the newest touch back, of all or of those that are meant. @param {(touch: { batch: string, entries: import('./log/types.js').Entry[] }) => boolean} [isMeant] */
  async undo(isMeant = () => true) {
    const last = this.log.history().find(t => isMeant(t) && !t.entries.every(e => this.undone().has(e.change.batch)) && this.log.canUndo(t.batch));
    if (!last) return this.tell(this.say('nothing_to_undo'));
    await this.undoBatch(last.batch);
  }

  /** @param {string} batch */
  async undoBatch(batch) {
    try {
      const made = await this.log.undo(batch, { by: this.walker });
      await this.log.keep('undone', this.settings.undone = [...this.undone(), batch, made[0].change.batch]);
      this.tell(this.say('undone'));
      this.draw();
    } catch { this.tell(this.say('not_written'), true); }
  }

  /** @returns {Set<string>} touches that were taken back, and the touches that did it */
  undone() { return new Set(this.settings.undone ?? []); }

  /** @param {string} text @param {boolean} [isGrave] */
  tell(text, isGrave = false) {
    const place = /** @type {HTMLElement} */ (document.getElementById('say'));
    place.className = isGrave ? 'grave' : '';
    place.textContent = text;
    clearTimeout(this.telling);
    this.telling = setTimeout(() => { place.textContent = ''; }, isGrave ? GRAVE_MS : TOLD_MS);
    this.toldAt = performance.now();
  }
  toldAt = 0;

  /** Says aloud, to those who listen to the screen, what was written. @param {string} text */
  hear(text) {
    const place = /** @type {HTMLElement} */ (document.getElementById('heard'));
    // The same words twice in a row are news too.
    place.textContent = place.textContent === text ? text + '\u00a0' : text;
  }

  /** A new screen needs no word of the one before, but for one that has just been said. */
  hush() {
    const place = document.getElementById('say');
    if (place && !place.className && performance.now() - this.toldAt > JUST_MS) place.textContent = '';
  }
  /** @type {any} */ telling = 0;

  async send() {
    if (this.isSending || this.isElsewhere) return;
    this.isSending = true;
    this.draw();
    try {
      await this.log.send();
      await this.set('sent_at', Date.now());
      this.tell(this.say('sent'));
    } catch (fault) {
      this.tell(fault instanceof DeskSaidNo && fault.why ? fault.why : this.say(fault instanceof Refused ? REFUSED[fault.why] : fault instanceof StorageFull ? 'storage_full' : 'no_desk'), fault instanceof Refused);
    } finally {
      this.isSending = false;
      this.draw();
    }
  }

  /** @param {string[]} parts */
  go(...parts) { location.hash = '#/' + parts.map(encodeURIComponent).join('/'); }

  route() { return location.hash.replace(/^#\/?/, '').split('/').filter(Boolean).map(p => { try { return decodeURIComponent(p); } catch { return p; } }); }

  /** Draws soon, once for many changes; never between a finger's way down and up, nor under words that are being typed. */
  draw() {
    if (this.isDrawing || this.isLeaving) return;
    this.isDrawing = true;
    const soon = () => {
      if (this.isPressed || /** @type {HTMLElement|null} */ (document.activeElement)?.dataset.typed) { setTimeout(soon, WAIT_MS); return; }
      this.isDrawing = false;
      this.drawNow();
    };
    queueMicrotask(soon);
  }
  isPressed = false;

  /** Looks at the clock, whatever screen is open: whoever is overdue hears of it without touching anything. */
  watchClock() {
    setInterval(() => { if (isOverdue(this) !== !!document.getElementById('overdue')) this.draw(); }, CLOCK_MS);
  }

  /** Knows when a finger, or a key that presses, is down. */
  watchFingers() {
    const down = () => { this.isPressed = true; }, up = () => setTimeout(() => { this.isPressed = false; }, 0);
    addEventListener('pointerdown', down, true);
    addEventListener('keydown', e => { if (e.key === ' ' || e.key === 'Enter') down(); }, true);
    for (const name of ['pointerup', 'pointercancel', 'click', 'keyup', 'blur']) addEventListener(name, up, true);
  }

  /** Makes this the window that writes, if it is or shall be. @param {boolean} [byForce] */
  async takeOver(byForce = false) {
    const lost = () => { this.isElsewhere = true; this.drawNow(); };
    this.isElsewhere = !await onlyWindow(lost, byForce);
    if (byForce) await this.log.reload();
    this.drawNow();
  }

  drawNow() {
    this.speak();
    if (this.isElsewhere) {
      document.getElementById('top')?.replaceChildren(el('strong', {}, 'Tussock'));
      document.getElementById('main')?.replaceChildren(elsewhere(this.say, () => this.takeOver(true)));
      return;
    }
    const [name = 'today', ...args] = this.route();
    const asked = this.log.bundle ? name : 'start';
    const screen = SCREENS[asked] ?? today;
    const main = /** @type {HTMLElement} */ (document.getElementById('main'));
    const focused = document.activeElement?.id;
    document.getElementById('top')?.replaceChildren(...this.top(asked));
    const alarm = overdue(this);
    main.replaceChildren(...(alarm ? [alarm] : []), screen(this, ...args));
    main.className = asked;
    const heading = main.querySelector('h1');
    if (heading) heading.tabIndex = -1;
    document.title = [heading?.textContent, 'Tussock'].filter(Boolean).join(' · ');
    // What was pressed may be gone with what it did: then the next thing to do is what comes next by key.
    const after = focused && (document.getElementById(focused) ?? main.querySelector('.bar button, .bar input') ?? heading);
    if (after) /** @type {HTMLElement} */ (after).focus({ preventScroll: true });
  }

  /** A screen begins: from its top, by eye and by key. */
  begin() {
    this.drawNow();
    scrollTo(0, 0);
    document.querySelector('h1')?.focus({ preventScroll: true });
  }

  /** @param {string} asked @returns {Node[]} */
  top(asked) {
    const { changes, refused, photos } = this.log.unsent(), only = changes + refused + photos;
    if (!this.log.bundle) return [el('strong', {}, 'Tussock')];
    return [
      asked === 'today' ? el('strong.home', {}, this.say('name')) : button('‹ ' + this.say('today'), () => this.go('today'), { look: 'plain', id: 'to-today' }),
      el('span.space'),
      button(this.say('undo'), () => this.undo(), { look: 'plain', id: 'undo' }),
      button(this.say(only ? 'on_phone_only' : 'all_sent', { count: only }), () => this.go('phone'), { look: only ? 'plain.waits' : 'plain', id: 'to-phone' })];
  }
}

/** Has the worker keep all files of the app, and look for newer ones: behind the first screen, not before it. @param {App} app */
function keepTheApp(app) {
  const worker = navigator.serviceWorker;
  if (!worker) return;
  worker.addEventListener('message', e => { if (e.data.broken) app.tell(app.say('app_broken', { file: e.data.broken }), true); });
  worker.register('service-worker.js').then(() => worker.ready).then(r => r.active?.postMessage('renew')).catch(() => {});
}

async function begin() {
  if (!isSecureContext) {
    document.getElementById('main')?.replaceChildren(el('h1', {}, 'Tussock'), el('p.lead', { id: 'insecure' }, speaker(null, 'en')('insecure')));
    return;
  }
  const log = await PhoneLog.open();
  const app = new App(log);
  for (const name of ['walker', 'recorder', 'undone', 'sent_at', 'from_end', 'arm_span_m', 'course_m', 'back_at', 'segment_steps', 'practice', 'reading', 'language']) app.settings[name] = await log.setting(name);
  app.watchFingers();
  app.watchClock();
  watchInstall(() => app.draw());
  await app.takeOver();
  addEventListener('hashchange', () => {
    app.scratch = {};
    app.hush();
    app.begin();
  });
  addEventListener('online', () => { if (log.self.key) app.send(); });
  document.addEventListener('visibilitychange', () => { if (document.visibilityState === 'visible') app.draw(); });
  document.documentElement.dataset.ready = 'yes';
  performance.mark('ready');
  keepTheApp(app);
  if (navigator.storage?.persisted) app.settings.kept = await navigator.storage.persisted();
  app.draw();
}

begin().catch(fault => {
  document.getElementById('main')?.replaceChildren(el('h1', {}, 'Tussock'), el('p', {}, speaker(null, 'en')('no_storage')), el('p.small', {}, String(fault)));
});
