/** The map of the season: what is chosen on it is chosen in the tables, and the other way round. Draws from the desk's own answer alone. */
import { NestLayer } from './map-nests.js';
import { stamp } from './marks.js';

const L = /** @type {any} */ (globalThis).L;
/** What addresses of the page's season begin with. */
const HERE = document.body.dataset.season ?? '';
const TINTS = ['#FFFFFF', '#DCE9F2', '#A9CCE3', '#6FA8CF', '#3A7FB0'];
/** The first tint that reaches the benchmark: tints are steps of half of it. */
const REACHED = 2;
const KEY_SIZE = 14, CLOSE = 17, BELT_M = 14, WIDEST = 10, THINNEST = 2;
/** Pictures nearer than this are enlarged ones. */
const DEEPEST = 18;
const place = /** @type {HTMLElement} */ (document.getElementById('map'));
const by = (/** @type {string} */ id) => /** @type {HTMLInputElement} */ (document.getElementById(id));

/** @param {string} tag @param {string} text @param {Record<string, string>} [attributes] */
function el(tag, text, attributes = {}) {
  const made = document.createElement(tag);
  made.textContent = text;
  for (const [name, value] of Object.entries(attributes)) made.setAttribute(name, value);
  return made;
}

/** @param {string} template @param {Record<string, string|number>} args */
const filled = (template, args) => template.replace(/\{(\w+)\}/g, (_, name) => String(args[name] ?? ''));

/** A line told by its name; names of people's own are text, never tags. @param {any} layer @param {string} name @param {Record<string, any>} how */
const named = (layer, name, how) => layer.bindTooltip(el('span', name), how);

async function draw() {
  const season = await (await fetch(place.dataset.text ?? '')).json();
  season.covers = season.covers.map((/** @type {string} */ c) => c || (place.dataset.noCover ?? ''));
  const map = L.map(place, { zoomAnimation: false, fadeAnimation: false, markerZoomAnimation: false, attributionControl: false, zoomControl: false, preferCanvas: true, renderer: L.canvas({ padding: 0.5, tolerance: 8 }), minZoom: 3, maxZoom: 21, zoomSnap: 0.5 });
  L.control.zoom({ zoomInTitle: place.dataset.closer, zoomOutTitle: place.dataset.farther }).addTo(map);
  L.control.scale({ maxWidth: 160, metric: place.dataset.units !== 'us', imperial: place.dataset.units !== 'metric' }).addTo(map);
  const everywhere = L.latLngBounds([...season.areas.flatMap((/** @type {any} */ a) => a.rings.flat()), ...season.lines.flatMap((/** @type {any} */ l) => l.points), ...season.nests.filter((/** @type {any} */ n) => n.at && !season.areas.length).map((/** @type {any} */ n) => n.at)]);
  if (everywhere.isValid()) map.fitBounds(everywhere, { padding: [24, 24], maxZoom: CLOSE }); else map.setView([31, -99], 5);

  const layers = /** @type {Record<string, any>} */ ({ pastures: L.layerGroup(), clumps: L.layerGroup(), lines: L.layerGroup(), search: L.layerGroup() });
  for (const area of season.areas) {
    // A boundary drawn on paper and one on a hillside: dark over light is seen on both.
    layers.pastures.addLayer(L.polygon(area.rings, { color: '#ffffff', weight: 5, fill: false, interactive: false }));
    const fence = L.polygon(area.rings, { color: '#222222', weight: 2, fill: false, interactive: false }), frame = fence.getBounds();
    layers.pastures.addLayer(fence);
    // Over the northern fence the name hides no nest of its own pasture.
    layers.pastures.addLayer(L.tooltip({ permanent: true, direction: 'top', className: 'pasture-name', offset: [0, 2] }).setLatLng([frame.getNorth(), frame.getCenter().lng]).setContent(el('span', area.pasture)));
  }
  const belts = /** @type {[any, number][]} */ ([]);
  for (const line of season.lines) {
    for (const segment of line.segments) {
      const said = segment.per_acre === null ? place.dataset.notCounted : filled(place.dataset.clumps ?? '', { line: line.name, density: Math.round(segment.per_acre * Number(place.dataset.density ?? 1)) });
      const under = L.polyline(segment.points, { color: '#222222', lineCap: 'butt', interactive: false });
      const over = named(L.polyline(segment.points, segment.tint < 0 ? { color: '#ffffff', lineCap: 'butt', dashArray: '3 3' } : { color: TINTS[segment.tint], lineCap: 'butt' }), said ?? '', { sticky: true }).on('click', () => chooseLine(line.name));
      belts.push([under, 2], [over, 0]);
      layers.clumps.addLayer(under).addLayer(over);
      // Tints that reach the benchmark carry a mark that grey print and every eye keep.
      if (segment.tint >= REACHED) {
        const hatch = L.polyline(segment.points, { color: '#222222', dashArray: '1 5', lineCap: 'butt', interactive: false });
        belts.push([hatch, 0]);
        layers.clumps.addLayer(hatch);
      }
    }
    if (line.points.length > 1) layers.lines.addLayer(named(L.polyline(line.points, { color: '#555555', weight: 2 }), line.name, { sticky: true }).on('click', () => chooseLine(line.name)));
  }
  const nests = new NestLayer(season.nests, season.lines);
  for (const name of ['pastures', 'clumps', 'lines', 'search']) if (by('show-' + name).checked) layers[name].addTo(map);
  nests.addTo(map);
  // A belt is drawn about as wide as its line's room on the land, so that far away it does not hide the nests.
  const belted = () => { const wide = Math.max(THINNEST, Math.min(WIDEST, BELT_M / nests.metres())); for (const [belt, more] of belts) belt.setStyle({ weight: wide + more }); };
  map.on('zoomend', belted);
  belted();

  const search = async (/** @type {string} */ line) => {
    layers.search.clearLayers();
    if (!by('show-search').checked || !line) return;
    const { areas } = await (await fetch(HERE + '/map/search.json?line=' + encodeURIComponent(line))).json();
    for (const area of areas) layers.search.addLayer(L.polygon(area.corners, { color: '#222222', weight: 2, dashArray: '6 4', fillColor: '#F0E442', fillOpacity: 0.25, interactive: false }));
  };

  let chosen = '';
  /** @param {string} name @param {boolean} [isShown] */
  function chooseLine(name, isShown = false) {
    const index = season.lines.findIndex((/** @type {any} */ l) => l.name === name);
    if (index < 0) return;
    if (chosen !== name) {
      chosen = name;
      document.querySelectorAll('tr[data-line]').forEach(r => r.toggleAttribute('data-chosen', r.getAttribute('data-line') === name));
      rows(index);
      search(name);
    }
    const points = season.lines[index].points.concat(season.nests.filter((/** @type {any} */ n) => n.line === index && n.at).map((/** @type {any} */ n) => n.at));
    if (isShown && points.length) { map.fitBounds(points, { padding: [40, 40], maxZoom: CLOSE, animate: false }); place.scrollIntoView({ block: 'nearest' }); }
  }

  /** @param {string} id @param {boolean} [isShown] */
  function chooseNest(id, isShown = false) {
    const nest = season.nests.find((/** @type {any} */ n) => n.id === id);
    if (!nest) return;
    chooseLine(season.lines[nest.line].name);
    nests.chosen = id;
    document.querySelectorAll('tr[data-nest]').forEach(r => r.toggleAttribute('data-chosen', r.getAttribute('data-nest') === id));
    if (isShown && nest.at) map.setView(nest.at, Math.max(map.getZoom(), CLOSE), { animate: false }); else nests.redraw();
  }

  /** @param {number} index */
  function rows(index) {
    const line = season.lines[index], about = /** @type {HTMLElement} */ (document.getElementById('chosen')), marks = (by('key').dataset.marks ?? '').split('|');
    const columns = (about.dataset.columns ?? '').split('|'), table = document.createElement('table'), head = table.createTHead().insertRow(), body = table.createTBody();
    for (const column of columns) head.append(el('th', column, { scope: 'col' }));
    head.append(el('td', ''));
    for (const nest of season.nests.filter((/** @type {any} */ n) => n.line === index)) {
      const row = body.insertRow();
      row.dataset.nest = nest.id;
      const press = el('button', String(nest.number), { type: 'button', class: 'plain' });
      press.onclick = () => chooseNest(nest.id, true);
      row.insertCell().append(press);
      row.insertCell().textContent = season.covers[nest.cover];
      row.insertCell().textContent = marks[nest.mark] + (nest.camera ? ' · ' + place.dataset.camera : '');
      row.insertCell().append(el('a', '✎', { href: HERE + '/record/' + nest.id, 'aria-label': `${about.dataset.open}: ${filled(place.dataset.nest ?? '', { line: line.name, number: nest.number })}` }));
    }
    by('chosen-name').textContent = `${line.name} · ${line.property}, ${line.pasture}`;
    by('chosen-rows').replaceChildren(table);
  }

  function key() {
    const list = by('key'), isFate = by('by-fate').checked, entries = isFate ? (list.dataset.marks ?? '').split('|') : season.covers;
    list.replaceChildren(...entries.map((/** @type {string} */ text, /** @type {number} */ i) => {
      const item = document.createElement('li'), drawn = stamp(isFate ? 'fate' : 'cover', i, KEY_SIZE, 2);
      drawn.className = 'mark';
      item.append(drawn, ' ' + text);
      return item;
    }));
  }

  for (const name of Object.keys(layers)) by('show-' + name).onchange = () => {
    if (by('show-' + name).checked) layers[name].addTo(map); else layers[name].remove();
    if (name === 'search') search(chosen);
    if (name === 'lines') { nests.shows.lines = by('show-lines').checked; nests.redraw(); }
  };
  for (const name of ['nests', 'flags', 'cameras']) by('show-' + name).onchange = () => { nests.shows[name] = by('show-' + name).checked; nests.redraw(); };
  for (const name of ['fate', 'cover']) by('by-' + name).onchange = () => { nests.by = by('by-fate').checked ? 'fate' : 'cover'; nests.redraw(); key(); };
  map.on('click', (/** @type {any} */ e) => { const hit = nests.at(e.containerPoint); if (hit) chooseNest(hit.id); });
  for (const press of /** @type {NodeListOf<HTMLButtonElement>} */ (document.querySelectorAll('button.show-line'))) {
    press.hidden = false;
    press.onclick = () => chooseLine(press.dataset.line ?? '', true);
  }
  imagery(map);
  key();
  const asked = new URLSearchParams(location.search);
  if (asked.get('nest')) chooseNest(asked.get('nest') ?? '', true); else if (asked.get('line')) chooseLine(asked.get('line') ?? '', true);
  place.dataset.drawn = String(season.nests.length);
}

/** Pictures from above are asked for when somebody ticks them, not before: whoever gives them out learns which places are looked at. @param {any} map */
function imagery(map) {
  const tick = by('show-imagery');
  if (!tick) return;
  const tiles = L.tileLayer(tick.dataset.address, { minZoom: 3, maxZoom: 21, maxNativeZoom: DEEPEST });
  tiles.on('tileerror', () => { by('imagery-none').hidden = false; });
  tick.onchange = () => {
    by('imagery-none').hidden = true;
    if (by('imagery-credit')) by('imagery-credit').hidden = !tick.checked;
    if (tick.checked) tiles.addTo(map); else tiles.remove();
  };
}

/** A file that is let go over the page is one that was chosen. */
function watchDrops() {
  const form = /** @type {HTMLFormElement|null} */ (document.getElementById('drop'));
  if (!form) return;
  addEventListener('dragover', e => e.preventDefault());
  addEventListener('drop', e => {
    e.preventDefault();
    if (!e.dataTransfer?.files.length) return;
    /** @type {HTMLInputElement} */ (form.elements.namedItem('files')).files = e.dataTransfer.files;
    form.requestSubmit();
  });
}

if (place) draw();
watchDrops();
