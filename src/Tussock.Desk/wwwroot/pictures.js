/** A picture of the page as a PNG: drawn by this browser, three points for one, on white. */

const SHARP = 3;

/** @param {SVGSVGElement} svg @param {string} name */
async function save(svg, name) {
  const { width, height } = svg.viewBox.baseVal, copy = /** @type {SVGSVGElement} */ (svg.cloneNode(true)), image = new Image();
  copy.setAttribute('width', String(width));
  copy.setAttribute('height', String(height));
  copy.setAttribute('font-family', 'system-ui, sans-serif');
  image.src = 'data:image/svg+xml;charset=utf-8,' + encodeURIComponent(new XMLSerializer().serializeToString(copy));
  await image.decode();
  const canvas = document.createElement('canvas'), pen = /** @type {CanvasRenderingContext2D} */ (canvas.getContext('2d'));
  canvas.width = width * SHARP;
  canvas.height = height * SHARP;
  pen.fillStyle = '#ffffff';
  pen.fillRect(0, 0, canvas.width, canvas.height);
  pen.drawImage(image, 0, 0, canvas.width, canvas.height);
  const link = document.createElement('a');
  link.download = name;
  link.href = URL.createObjectURL(/** @type {Blob} */ (await new Promise(done => canvas.toBlob(done, 'image/png'))));
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 0);
}

for (const press of /** @type {NodeListOf<HTMLButtonElement>} */ (document.querySelectorAll('button.png'))) {
  const svg = /** @type {SVGSVGElement|undefined} */ (document.querySelectorAll('.chapter svg')[Number(press.dataset.picture) - 1]);
  press.hidden = !svg;
  press.onclick = () => { if (svg) save(svg, `${location.pathname.split('/').pop() || 'results'}-${press.dataset.picture}.png`); };
}
