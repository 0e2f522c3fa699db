/** The picture of calibration: what was said across, how often it was so upward. */

/** @typedef {import('./score.js').Band} Band */

const SIZE = 320, ROOM = 44, TO = 300, FEW = 10, LEAST = 5, MOST = 9, TICKS = [0, 50, 100];

/** @param {Band[]} found @param {{ said: string, came: string }} axes @returns {string} SVG, black on white */
export function calibrationPicture(found, axes) {
  const x = (/** @type {number} */ p) => ROOM + p / 100 * (TO - ROOM), y = (/** @type {number} */ p) => TO - ROOM + 20 - p / 100 * (TO - ROOM);
  const line = (/** @type {number[]} */ [a, b, c, d], more = '') => `<line x1="${x(a)}" y1="${y(b)}" x2="${x(c)}" y2="${y(d)}" stroke="#000" ${more}/>`;
  const text = (/** @type {number} */ at, /** @type {number} */ high, /** @type {string} */ anchor, /** @type {string|number} */ words, more = '') => `<text x="${at}" y="${high}" text-anchor="${anchor}" font-size="14" font-family="sans-serif" ${more}>${words}</text>`;
  const marks = found.map(b => {
    const share = 100 * b.came / b.times, r = b.times < FEW ? LEAST : MOST, isRight = b.said > 80;
    return `<circle cx="${x(b.said)}" cy="${y(share)}" r="${r}" fill="${b.times < FEW ? '#fff' : '#000'}" stroke="#000" stroke-width="2"/>` + text(x(b.said) + (isRight ? -13 : 13), y(share) + (share > 90 ? 16 : -4), isRight ? 'end' : 'start', b.times, 'font-weight="bold"');
  });
  return `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${SIZE} ${SIZE + 8}" width="${SIZE}" height="${SIZE + 8}"><rect width="100%" height="100%" fill="#fff"/>`
    + line([0, 0, 100, 0]) + line([0, 0, 0, 100]) + line([0, 0, 100, 100], 'stroke-dasharray="5 4"')
    + TICKS.map(t => text(x(t), y(0) + 18, 'middle', t) + text(x(0) - 6, y(t) + 5, 'end', t)).join('') + marks.join('')
    + text((x(0) + x(100)) / 2, y(0) + 38, 'middle', axes.said) + text(13, (y(0) + y(100)) / 2, 'middle', axes.came, `transform="rotate(-90 13 ${(y(0) + y(100)) / 2})"`) + '</svg>';
}
