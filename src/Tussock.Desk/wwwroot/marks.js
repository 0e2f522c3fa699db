/** The small marks of nests on the map: told apart by shape and by lightness, not by colour alone. */

const DARK = '#222222', PAPER = '#ffffff';
/** Colours of pictures: Okabe & Ito 2008. Order: whole, eaten, lost otherwise, not known, planned. */
const BECAME = ['#0072B2', '#D55E00', '#F0E442', '#E6E6E6', PAPER];
const COVERS = ['#009E73', '#CC79A7', '#56B4E9', '#E69F00', '#8C8C8C'];

/** @param {CanvasRenderingContext2D} pen @param {number} mark @param {number} r half its size */
function became(pen, mark, r) {
  pen.lineWidth = Math.max(1, r * 0.18);
  pen.strokeStyle = DARK;
  pen.fillStyle = BECAME[mark];
  pen.beginPath();
  if (mark === 0) pen.arc(0, 0, r, 0, 7);
  else if (mark === 1) {
    for (const [colour, wide] of /** @type {[string, number][]} */ ([[PAPER, r * 0.95], [BECAME[1], r * 0.6]])) {
      pen.lineWidth = wide;
      pen.strokeStyle = colour;
      pen.beginPath();
      pen.moveTo(-r, -r); pen.lineTo(r, r); pen.moveTo(-r, r); pen.lineTo(r, -r);
      pen.stroke();
    }
    return;
  } else if (mark === 2) { pen.rect(-r, -r, 2 * r, 2 * r); pen.moveTo(-r, r); pen.lineTo(r, -r); }
  else if (mark === 3) { pen.setLineDash([r * 0.5, r * 0.35]); pen.arc(0, 0, r * 0.9, 0, 7); }
  else pen.arc(0, 0, r * 0.45, 0, 7);
  pen.fill();
  pen.stroke();
}

/** A class of cover: its colour and its own shape, from a triangle to a star of sides. @param {CanvasRenderingContext2D} pen @param {number} cover @param {number} r */
function grows(pen, cover, r) {
  const sides = cover + 3;
  pen.lineWidth = Math.max(1, r * 0.18);
  pen.strokeStyle = DARK;
  pen.fillStyle = COVERS[cover % COVERS.length];
  pen.beginPath();
  for (let i = 0; i < sides; i++) pen[i ? 'lineTo' : 'moveTo'](r * Math.sin(2 * Math.PI * i / sides), -r * Math.cos(2 * Math.PI * i / sides));
  pen.closePath();
  pen.fill();
  pen.stroke();
}

/** A mark drawn once, to be stamped. @param {'fate'|'cover'} by @param {number} which @param {number} size points @param {number} ratio points of the screen a point */
export function stamp(by, which, size, ratio) {
  const made = document.createElement('canvas'), side = Math.ceil((size + 4) * ratio);
  made.width = made.height = side;
  const pen = /** @type {CanvasRenderingContext2D} */ (made.getContext('2d'));
  pen.translate(side / 2, side / 2);
  pen.scale(ratio, ratio);
  (by === 'fate' ? became : grows)(pen, which, size / 2);
  return made;
}
