/** A voice note: pressed to begin, pressed again to end; kept with its nest. */
import { button } from './dom.js';

const MOST_MS = 60000;
/** @type {MediaRecorder|null} */ let recording = null;

/** @param {import('../app.js').App} app @param {{ transect: string, nest: string }} where */
export function voice(app, where) {
  const { say } = app;
  if (!navigator.mediaDevices?.getUserMedia || !globalThis.MediaRecorder) return null;
  return button(say(recording ? 'voice_end' : 'voice_begin'), () => recording ? recording.stop() : begin(app, where), { id: 'voice', 'aria-pressed': recording !== null });
}

/** @param {import('../app.js').App} app @param {{ transect: string, nest: string }} where */
async function begin(app, where) {
  try {
    const stream = await navigator.mediaDevices.getUserMedia({ audio: true }), made = new MediaRecorder(stream), /** @type {Blob[]} */ parts = [];
    made.ondataavailable = e => parts.push(e.data);
    made.onstop = async () => {
      recording = null;
      stream.getTracks().forEach(t => t.stop());
      const note = new Blob(parts, { type: made.mimeType });
      if (note.size > app.log.bundle.limits.media_bytes) return app.tell(app.say('voice_too_big'), true);
      const medium = await app.log.medium(note);
      if (await app.touch([{ kind: 'media', fields: { media: medium.sha256, type: medium.type, ...where } }], [medium])) app.tell(app.say('voice_written'));
      app.draw();
    };
    made.start();
    recording = made;
    setTimeout(() => { if (made.state === 'recording') made.stop(); }, MOST_MS);
    app.draw();
  } catch { app.tell(app.say('no_microphone'), true); }
}
