/** All nests of the map on one canvas: stamped anew when the map has come to rest, moved along with it until then. */
import { stamp } from './marks.js';

const MARGIN = 0.35, SPACING_M = 36, NAMES_BELOW_M = 12, NUMBERS_FROM = 13, REACH = 22;
const L = /** @type {any} */ (globalThis).L;

/** @typedef {{ id: string, line: number, number: number, cover: number, mark: number, camera?: boolean, at?: [number, number], flag?: [number, number] }} Nest */

export const NestLayer = L.Layer.extend({
  /** @param {Nest[]} nests @param {{ name: string, points: [number, number][] }[]} lines */
  initialize(nests, lines) {
    this.nests = nests.filter(n => n.at);
    this.lines = lines;
    this.by = 'fate';
    this.shows = { nests: true, flags: false, cameras: true, lines: true };
    this.chosen = '';
  },
  onAdd(/** @type {any} */ map) {
    this.map = map;
    // Places on the flat map at scale 1, once: each drawing is then a product and a difference.
    const flat = (/** @type {[number, number]} */ at) => { const p = map.project(at, 0); return [p.x, p.y]; };
    this.flat = this.nests.map((/** @type {Nest} */ n) => flat(/** @type {any} */ (n.at)));
    this.flags = this.nests.map((/** @type {Nest} */ n) => n.flag ? flat(n.flag) : null);
    this.names = this.lines.filter((/** @type {any} */ l) => l.points.length).map((/** @type {any} */ l) => [l.name, ...flat(l.points[0])]);
    this.canvas = L.DomUtil.create('canvas', 'nests leaflet-zoom-hide', map.getPanes().overlayPane);
    map.on('moveend zoomend resize', this.redraw, this);
    this.redraw();
  },
  onRemove(/** @type {any} */ map) {
    map.off('moveend zoomend resize', this.redraw, this);
    this.canvas.remove();
  },
  /** Metres a point of the screen. */
  metres() {
    const c = this.map.getCenter();
    return 40075016.686 * Math.cos(c.lat * Math.PI / 180) / (256 * 2 ** this.map.getZoom());
  },
  redraw() {
    const { map, canvas } = this, size = map.getSize(), pad = size.multiplyBy(MARGIN).round(), ratio = devicePixelRatio || 1;
    const corner = map.containerPointToLayerPoint(pad.multiplyBy(-1)).round(), wide = size.x + 2 * pad.x, high = size.y + 2 * pad.y;
    L.DomUtil.setPosition(canvas, corner);
    canvas.width = wide * ratio;
    canvas.height = high * ratio;
    canvas.style.width = wide + 'px';
    canvas.style.height = high + 'px';
    const pen = canvas.getContext('2d'), origin = map.getPixelOrigin().add(corner), scale = 2 ** map.getZoom(), perPoint = this.metres();
    const side = Math.max(5, Math.min(20, SPACING_M / perPoint * 0.8)), stamps = new Map();
    const of = (/** @type {Nest} */ n) => {
      const which = this.by === 'fate' ? n.mark : n.cover;
      if (!stamps.has(which)) stamps.set(which, stamp(this.by, which, side, ratio));
      return stamps.get(which);
    };
    pen.scale(ratio, ratio);
    this.drawn = [];
    if (this.shows.flags) {
      pen.strokeStyle = pen.fillStyle = '#222222';
      for (const flag of this.flags) if (flag) pennant(pen, flag[0] * scale - origin.x, flag[1] * scale - origin.y, side);
    }
    pen.font = '600 12px system-ui, sans-serif';
    pen.textBaseline = 'middle';
    for (let i = 0; this.shows.nests && i < this.nests.length; i++) {
      const x = this.flat[i][0] * scale - origin.x, y = this.flat[i][1] * scale - origin.y, nest = this.nests[i];
      if (x < -side || y < -side || x > wide + side || y > high + side) continue;
      const made = of(nest), half = made.width / ratio / 2;
      pen.drawImage(made, x - half, y - half, 2 * half, 2 * half);
      if (this.shows.cameras && nest.camera) camera(pen, x, y - side, side);
      if (side >= NUMBERS_FROM) words(pen, String(nest.number), x + side * 0.7, y + side * 0.6);
      if (nest.id === this.chosen) ring(pen, x, y, side);
      this.drawn.push(x - pad.x, y - pad.y, i);
    }
    if (this.shows.lines && perPoint < NAMES_BELOW_M) for (const [name, east, south] of this.names) words(pen, name, east * scale - origin.x - 6, south * scale - origin.y - side, 'end');
  },
  /** The nest under a finger; null when none is near. @param {any} point of the map's frame */
  at(point) {
    // What was drawn lies where the map was when it came to rest.
    const moved = this.map.layerPointToContainerPoint(L.DomUtil.getPosition(this.canvas)).subtract(this.map.getSize().multiplyBy(-MARGIN).round());
    let best = null, near = REACH * REACH;
    for (let i = 0; i < this.drawn.length; i += 3) {
      const dx = this.drawn[i] + moved.x - point.x, dy = this.drawn[i + 1] + moved.y - point.y, far = dx * dx + dy * dy;
      if (far < near) { near = far; best = this.nests[this.drawn[i + 2]]; }
    }
    return best;
  },
});

/** @param {CanvasRenderingContext2D} pen @param {number} x @param {number} y @param {number} side */
function pennant(pen, x, y, side) {
  pen.lineWidth = 1.5;
  pen.beginPath();
  pen.moveTo(x, y); pen.lineTo(x, y - side);
  pen.stroke();
  pen.beginPath();
  pen.moveTo(x, y - side); pen.lineTo(x + side * 0.6, y - side * 0.75); pen.lineTo(x, y - side * 0.5);
  pen.fill();
}

/** @param {CanvasRenderingContext2D} pen @param {number} x @param {number} y @param {number} side */
function camera(pen, x, y, side) {
  const w = side * 0.8, h = side * 0.55;
  pen.fillStyle = '#222222';
  pen.fillRect(x - w / 2, y - h / 2, w, h);
  pen.fillStyle = '#ffffff';
  pen.beginPath();
  pen.arc(x, y, h * 0.3, 0, 7);
  pen.fill();
}

/** @param {CanvasRenderingContext2D} pen @param {number} x @param {number} y @param {number} side */
function ring(pen, x, y, side) {
  for (const [colour, wide] of /** @type {[string, number][]} */ ([['#ffffff', 6], ['#222222', 3]])) {
    pen.strokeStyle = colour;
    pen.lineWidth = wide;
    pen.beginPath();
    pen.arc(x, y, side, 0, 7);
    pen.stroke();
  }
}

/** @param {CanvasRenderingContext2D} pen @param {string} text @param {number} x @param {number} y @param {CanvasTextAlign} [align] */
function words(pen, text, x, y, align = 'start') {
  pen.textAlign = align;
  pen.lineWidth = 3;
  pen.strokeStyle = '#ffffff';
  pen.strokeText(text, x, y);
  pen.fillStyle = '#222222';
  pen.fillText(text, x, y);
}
