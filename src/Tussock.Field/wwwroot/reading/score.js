/** What a belief in percents is worth, and how what was said compares with what came. Pure; bound to the core by tests/checks/phone-vectors. */

/** @typedef {{ said: number[], truth: number }} Answer percents of the classes, which add to 100, and the index of the class that it was
 * @typedef {{ from: number, to: number, times: number, came: number, said: number }} Band */

const BANDS = 5, ALL = 100, MOST = 2;

/** Half the Brier score in hundredths: 0 where all was given to what it was, 100 where all was given to another. @param {number[]} said @param {number} truth */
export const penalty = (said, truth) => ALL / MOST * said.reduce((sum, p, k) => sum + (p / ALL - (k === truth ? 1 : 0)) ** 2, 0);

/** Every percent that was ever said, in five even bands, with how often it was so; bands without any are left out. @param {Answer[]} answers @returns {Band[]} */
export function bands(answers) {
  const all = Array.from({ length: BANDS }, (_, b) => ({ from: b ? b * ALL / BANDS + 1 : 0, to: (b + 1) * ALL / BANDS, times: 0, came: 0, said: 0 }));
  for (const { said, truth } of answers) said.forEach((p, k) => {
    const band = all[Math.max(0, Math.ceil(p / ALL * BANDS) - 1)];
    band.times++;
    band.said += p;
    if (k === truth) band.came++;
  });
  return all.filter(b => b.times).map(b => ({ ...b, said: b.said / b.times }));
}

/** How many points what was said lies from how often it came, on average. @param {Band[]} found */
export function apart(found) {
  const times = found.reduce((n, b) => n + b.times, 0);
  return times ? found.reduce((sum, b) => sum + b.times * Math.abs(b.said - ALL * b.came / b.times), 0) / times : 0;
}

/** What is still to give. @param {number[]} said */
export const left = said => ALL - said.reduce((a, b) => a + b, 0);

/** One class gets so much more, or less; never more than is left, never under 0. @param {number[]} said @param {number} k @param {number} by */
export const given = (said, k, by) => said.map((p, i) => i === k ? Math.max(0, p + Math.min(by, left(said))) : p);

/** What is left goes evenly to the classes that have nothing yet, or to all where each has something; whole percents, the first get the odd ones. @param {number[]} said */
export function evenly(said) {
  const takers = said.includes(0) ? said.flatMap((p, k) => p ? [] : [k]) : said.map((_, k) => k), rest = left(said), share = Math.floor(rest / takers.length);
  return said.map((p, k) => takers.includes(k) ? p + share + (takers.indexOf(k) < rest - share * takers.length ? 1 : 0) : p);
}
