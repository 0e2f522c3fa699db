/** Steps and metres: what the measured course says of a person. */

export const ASSUMED_STEP_M = 0.75;

/** Mean and spread of step lengths over walks of the course; no spread below two walks. @param {{ course_m: number, steps: number }[]} walks @returns {{ step: number|null, spread: number|null, walks: number }} */
export function stepOf(walks) {
  const lengths = walks.filter(w => w.course_m > 0 && w.steps > 0).map(w => w.course_m / w.steps), n = lengths.length;
  if (n === 0) return { step: null, spread: null, walks: 0 };
  const step = lengths.reduce((a, b) => a + b, 0) / n;
  return { step, spread: n < 2 ? null : Math.sqrt(lengths.reduce((a, b) => a + (b - step) ** 2, 0) / (n - 1)), walks: n };
}
