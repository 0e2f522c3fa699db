/** Draws a boundary: the text of corners is the truth, the map shows it and writes into it. */

const L = /** @type {any} */ (globalThis).L;
const HANDLE = 22, MOST_HANDLES = 400, CLOSE = 16;
const place = /** @type {HTMLElement} */ (document.getElementById('map'));
const corners = /** @type {HTMLTextAreaElement} */ (document.getElementById('corners'));

/** @typedef {[number, number]} Corner */

/** @param {string} text @returns {Corner[][]} rings; what can't be read is left to the desk to tell */
function read(text) {
  const rings = /** @type {Corner[][]} */ ([[]]);
  for (const line of text.split('\n')) {
    const numbers = line.trim().split(/[\s,;]+/).map(Number);
    if (line.trim() === '') { if (rings[rings.length - 1].length) rings.push([]); } else if (numbers.length >= 2 && numbers.slice(0, 2).every(Number.isFinite)) rings[rings.length - 1].push([numbers[0], numbers[1]]);
  }
  return rings;
}

/** @param {Corner[][]} rings */
const written = rings => rings.map(r => r.map(c => c[0].toFixed(6) + ', ' + c[1].toFixed(6)).join('\n')).join('\n\n');

async function draw() {
  const season = await (await fetch(place.dataset.text ?? '')).json();
  const map = L.map(place, { zoomAnimation: false, fadeAnimation: false, attributionControl: false, zoomControl: false, doubleClickZoom: false, maxZoom: 21, zoomSnap: 0.5 });
  L.control.zoom({ zoomInTitle: place.dataset.closer, zoomOutTitle: place.dataset.farther }).addTo(map);
  L.control.scale({ maxWidth: 160, metric: place.dataset.units !== 'us', imperial: place.dataset.units !== 'metric' }).addTo(map);
  const others = season.areas.filter((/** @type {any} */ a) => a.id !== place.dataset.id), own = season.areas.find((/** @type {any} */ a) => a.id === place.dataset.id);
  for (const area of others) L.polygon(area.rings, { color: '#8C8C8C', weight: 2, fill: false, interactive: false }).addTo(map);
  for (const line of season.lines) if (line.points.length > 1) L.polyline(line.points, { color: '#555555', weight: 1, interactive: false }).addTo(map);
  const frame = L.latLngBounds(own ? own.rings.flat() : [...others.flatMap((/** @type {any} */ a) => a.rings.flat()), ...season.lines.flatMap((/** @type {any} */ l) => l.points)]);
  if (frame.isValid()) map.fitBounds(frame, { padding: [30, 30], maxZoom: CLOSE }); else map.setView([31, -99], 5);

  let rings = read(corners.value);
  const shape = L.polygon([], { color: '#222222', weight: 3, fillColor: '#56B4E9', fillOpacity: 0.15, interactive: false }).addTo(map), handles = L.layerGroup().addTo(map);
  const write = () => { corners.value = written(rings); show(); };
  function show() {
    shape.setLatLngs(rings.filter(r => r.length));
    handles.clearLayers();
    if (rings.flat().length > MOST_HANDLES) return;
    rings.forEach((ring, r) => ring.forEach((corner, c) => {
      const isLast = r === rings.length - 1 && c === ring.length - 1;
      const handle = L.marker(corner, { draggable: true, keyboard: false, icon: L.divIcon({ className: isLast ? 'corner last' : 'corner', iconSize: [HANDLE, HANDLE] }) }).addTo(handles);
      handle.on('drag', (/** @type {any} */ e) => { ring[c] = [e.latlng.lat, e.latlng.lng]; shape.setLatLngs(rings.filter(x => x.length)); });
      handle.on('dragend', write);
    }));
  }

  map.on('click', (/** @type {any} */ e) => { rings[rings.length - 1].push([e.latlng.lat, e.latlng.lng]); write(); });
  corners.addEventListener('input', () => { rings = read(corners.value); show(); });
  const press = (/** @type {string} */ id, /** @type {() => void} */ does) => { /** @type {HTMLElement} */ (document.getElementById(id)).onclick = () => { does(); write(); }; };
  press('take-back', () => { rings[rings.length - 1].pop(); if (!rings[rings.length - 1].length && rings.length > 1) rings.pop(); });
  press('new-ring', () => { if (rings[rings.length - 1].length) rings.push([]); });
  press('clear', () => { rings = [[]]; });
  /** @type {HTMLElement} */ (document.querySelector('.drawing')).hidden = false;
  show();
  place.dataset.drawn = 'yes';
}

draw();
