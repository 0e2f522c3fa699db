/** Speeds a sheet up: one letter writes its word, Enter goes to the next nest, arrows go from box to box, a space repeats the row above. */

const form = /** @type {HTMLFormElement | null} */ (document.getElementById('entry'));

/** @type {Map<string, Map<string, string>>} by column: letter, word */
const letters = new Map();
for (const group of /** @type {NodeListOf<HTMLElement>} */ (document.querySelectorAll('[data-letters]'))) {
  letters.set(group.dataset.letters ?? '', new Map([...group.querySelectorAll('kbd')].filter(k => k.textContent).map(k => [k.textContent ?? '', k.dataset.word ?? ''])));
}

/** What letters stand for in a box: in this one alone, or in all of its column; where classes have boxes of their own, their number stands before the column. @param {HTMLInputElement} box */
const lettersOf = box => letters.get(box.dataset.column ?? '') ?? letters.get(box.dataset.column?.split('.').pop() ?? '');

/** @param {Element} row @returns {HTMLInputElement[]} */
const boxes = row => [...row.querySelectorAll('input[data-column]')].map(e => /** @type {HTMLInputElement} */ (e));

/** @param {HTMLInputElement | undefined | null} box */
function go(box) {
  if (!box) return;
  box.focus();
  box.select();
}

/** The rows above the nests count as rows too. */
const rows = () => [...document.querySelectorAll('#entry .once, #entry .nest')].filter(r => boxes(r).length);

/** @param {HTMLInputElement} box @param {number} step @param {boolean} skips whether nests that are over are passed by */
function other(box, step, skips) {
  const all = rows(), at = all.findIndex(r => r.contains(box));
  for (let i = at + step; i >= 0 && i < all.length; i += step) {
    const row = all[i];
    if (skips && row instanceof HTMLElement && row.dataset.ended) continue;
    return boxes(row);
  }
  return null;
}

/** @param {HTMLInputElement} box */
function asAbove(box) {
  for (let row = other(box, -1, false), last = box; row; row = other(last, -1, false)) {
    last = row[0];
    if (!last.closest('.nest')) return;
    const same = row.find(b => b.dataset.column === box.dataset.column);
    if (same?.value) { box.value = same.value; return; }
  }
}

if (form) {
  for (const hint of /** @type {NodeListOf<HTMLElement>} */ (form.querySelectorAll('.scripted'))) hint.hidden = false;
  form.addEventListener('input', event => {
    const box = event.target;
    if (!(box instanceof HTMLInputElement) || !box.dataset.column) return;
    form.dataset.typed = 'yes';
    const known = lettersOf(box), typed = box.value.toLowerCase();
    if (!known || !typed || !(event instanceof InputEvent) || event.inputType !== 'insertText') return;
    const word = known.get(typed) ?? (typed.length > 1 ? [...known.values()].find(w => w.toLowerCase().startsWith(typed)) : undefined);
    if (!word) return;
    // The rest of the word stands there selected: whoever types it out types over it.
    box.value = word;
    box.setSelectionRange(word.toLowerCase().startsWith(typed) ? typed.length : 0, word.length);
  });
  form.addEventListener('keydown', event => {
    const box = event.target;
    if (event.key === 'Enter' && (event.ctrlKey || event.metaKey)) {
      event.preventDefault();
      /** @type {HTMLElement} */ (document.getElementById('save')).click();
      return;
    }
    if (!(box instanceof HTMLInputElement) || !box.dataset.column || event.altKey || event.isComposing) return;
    if (event.key === 'Enter') {
      event.preventDefault();
      const next = other(box, event.shiftKey ? -1 : 1, true);
      if (next) go(next[0]); else if (!event.shiftKey) document.getElementById('save')?.focus();
      return;
    }
    if (event.ctrlKey || event.metaKey || event.shiftKey) return;
    if (event.key === ' ' && box.value === '' && box.closest('.nest')) {
      event.preventDefault();
      asAbove(box);
      form.dataset.typed = 'yes';
      box.select();
      return;
    }
    if (event.key === 'ArrowDown' || event.key === 'ArrowUp') {
      const next = other(box, event.key === 'ArrowDown' ? 1 : -1, false);
      if (!next) return;
      event.preventDefault();
      go(next.find(b => b.dataset.column === box.dataset.column) ?? next[0]);
    }
    const whole = lettersOf(box) !== undefined || (box.selectionStart === 0 && box.selectionEnd === box.value.length);
    if (event.key === 'ArrowRight' && (whole || box.selectionStart === box.value.length)) step(1);
    if (event.key === 'ArrowLeft' && (whole || box.selectionEnd === 0)) step(-1);

    /** @param {number} by */
    function step(by) {
      const all = rows().flatMap(boxes), next = all[all.indexOf(/** @type {HTMLInputElement} */ (box)) + by];
      if (!next) return;
      event.preventDefault();
      go(next);
    }
  });
  const picture = /** @type {HTMLInputElement} */ (document.getElementById('picture'));
  picture.addEventListener('change', () => picture.setCustomValidity((picture.files?.[0]?.size ?? 0) > Number(picture.dataset.most) ? picture.dataset.tooBig ?? '' : ''));
  form.addEventListener('submit', () => { delete form.dataset.typed; });
  addEventListener('beforeunload', event => { if (form.dataset.typed) event.preventDefault(); });
  const wrong = /** @type {HTMLInputElement | null} */ (form.querySelector('[aria-invalid="true"]')), next = document.getElementById('next-sheet');
  if (wrong) go(wrong);
  else if (document.querySelector('[role=alert]')) document.getElementById('save')?.focus();
  else if (next) next.focus();
  else go(rows().flatMap(boxes).find(b => !b.value));
  document.body.dataset.entry = 'ready';
}
