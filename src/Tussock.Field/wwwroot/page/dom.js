/** Makes elements. Text is text: nothing that a record holds can become a tag. */

/** @typedef {Node|string|number|null|undefined|false} Child */

/**
 * @param {string} tag with classes, for example 'p.note'
 * @param {Record<string, any>} [how] properties; on… are listeners; names with a dash, and role, are attributes
 * @param {...(Child|Child[])} inside
 * @returns {any}
 */
export function el(tag, how = {}, ...inside) {
  const [name, ...classes] = tag.split('.');
  const made = document.createElement(name);
  if (classes.length) made.className = classes.join(' ');
  for (const [key, what] of Object.entries(how)) {
    if (what === undefined || what === null || (what === false && !key.startsWith('aria-'))) continue;
    if (key.startsWith('on')) made.addEventListener(key.slice(2), what);
    else if (key.includes('-') || key === 'role' || key === 'for' || key === 'list') made.setAttribute(key, String(what));
    else /** @type {any} */ (made)[key] = what;
  }
  made.append(...inside.flat().filter(c => c !== null && c !== undefined && c !== false).map(c => c instanceof Node ? c : String(c)));
  return made;
}

/** @param {string} label @param {(e: Event) => void} press @param {Record<string, any>} [how] */
export function button(label, press, { look = '', ...how } = {}) {
  return el('button' + (look ? '.' + look : ''), { type: 'button', onclick: press, ...how }, label);
}

let numbered = 0;

/** A labelled field; `take` is called when its text is settled. @param {string} label @param {string} text @param {(text: string) => void} take @param {Record<string, any>} [how] */
export function field(label, text, take, { id = 'field-' + ++numbered, choices = /** @type {string[]} */ ([]), ...how } = {}) {
  const list = choices.length ? el('datalist', { id: id + '-list' }, choices.map(c => el('option', { value: c }))) : null;
  return el('div.field', {}, el('label', { for: id }, label),
    el('input', { id, value: text, autocomplete: 'off', list: list ? id + '-list' : undefined, oninput: (/** @type {any} */ e) => { e.target.dataset.typed = 'yes'; }, onblur: (/** @type {any} */ e) => { delete e.target.dataset.typed; },
      onchange: (/** @type {any} */ e) => { delete e.target.dataset.typed; take(e.target.value.trim()); }, ...how }), list);
}

/** One of several, each a touch. @param {string} label @param {{ value: string, name: string }[]} options @param {string} chosen @param {(value: string) => void} take @param {string} [id] */
export function chips(label, options, chosen, take, id = 'chips-' + ++numbered) {
  return el('fieldset.chips', {}, el('legend', {}, label), el('div.row', {}, options.map((o, i) =>
    button(o.name, () => take(o.value), { id: id + '-' + i, 'aria-pressed': o.value === chosen }))));
}

/** A picture of the bundle, as an image: it can hold no script. @param {string} svg @param {string} alt */
export const picture = (svg, alt = '') => el('img.picture', { src: 'data:image/svg+xml;charset=utf-8,' + encodeURIComponent(svg), alt });

/** Has the loudspeaker ready before the first touch: opening it takes longer than a touch may. */
export const ready = () => { setTimeout(() => { try { audio ??= new AudioContext(); } catch { audio = null; } }, 0); };

/** A touch that only vibrates and sounds. @param {number} tone hertz */
export function tick(tone) {
  navigator.vibrate?.(30);
  try {
    audio ??= new AudioContext();
    // A browser lets it sound from a touch on only.
    if (audio.state === 'suspended') audio.resume().catch(() => {});
    const sound = audio.createOscillator(), loud = audio.createGain();
    sound.frequency.value = tone;
    loud.gain.value = 0.08;
    sound.connect(loud).connect(audio.destination);
    sound.start();
    sound.stop(audio.currentTime + 0.06);
  } catch { audio = null; }
}
/** @type {AudioContext|null} */ let audio = null;
