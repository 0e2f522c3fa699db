/** Shows a newer answer when there is one: the page asks where the answer stands and draws itself again; what somebody is typing is never taken away. */
const AGAIN_MS = 2000;
/** What addresses of the page's season begin with. */
const season = document.body.dataset.season ?? '';
const updating = document.getElementById('updating');

/** Somebody has typed, or looks round on a map: a page that drew itself anew would take that away. */
let isTouched = false;
const touched = () => { isTouched = true; };
addEventListener('input', touched, true);
for (const name of ['pointerdown', 'keydown', 'wheel']) document.getElementById('map')?.addEventListener(name, touched, { passive: true });

async function watch() {
  for (let pause = 500; ; pause = Math.min(pause * 1.5, 5000)) {
    await new Promise(r => setTimeout(r, pause));
    if (document.visibilityState !== 'visible') continue;
    const { position, answer } = await (await fetch(season + '/desk/state', { cache: 'no-store' })).json();
    const isNew = String(answer) !== document.body.dataset.answer;
    if (!isNew || position !== answer) continue;
    // A sheet half typed shows nothing of the answer: it stays as it is.
    if (document.querySelector('form.entry')) { document.body.dataset.answer = String(answer); document.body.dataset.position = String(position); updating.hidden = true; return; }
    if (isTouched) { offer(); return; }
    if (!document.querySelector('form.record :focus')) { location.reload(); return; }
  }
}

/** Whoever is in the middle of something takes the newer answer when it suits. */
function offer() {
  const press = document.createElement('button');
  press.type = 'button';
  press.textContent = updating?.dataset.newest ?? '';
  press.onclick = () => location.reload();
  updating?.replaceChildren(press);
}

if (updating && !updating.hidden) watch().catch(() => {});

// A page whose own answer is still on its way asks again by itself.
if (document.querySelector('[data-again]')) setTimeout(() => location.reload(), AGAIN_MS);
