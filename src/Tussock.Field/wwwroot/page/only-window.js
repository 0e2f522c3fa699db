/** One window of the app writes on a phone at a time: what a touch replaces must be what stands in front of the crew. */

const NAME = 'tussock-field window', PATIENCE_MS = 700;

/**
 * Waits a moment for the window before this one to go, as at a reload.
 * @param {() => void} lost called when another window takes over
 * @param {boolean} [byForce] takes over from the window that has it
 * @returns {Promise<boolean>} whether this is the window that writes
 */
export function onlyWindow(lost, byForce = false) {
  if (!navigator.locks) return Promise.resolve(true);
  return new Promise(resolve => {
    let isOurs = false;
    navigator.locks.request(NAME, byForce ? { steal: true } : { signal: AbortSignal.timeout(PATIENCE_MS) }, () => {
      isOurs = true;
      resolve(true);
      return new Promise(() => {});
    }).catch(() => { if (isOurs) lost(); else resolve(false); });
  });
}
