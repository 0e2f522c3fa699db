/** Steps of a person on a measured course, and the arm span. */
import { button, counter, el, field } from './parts.js';
import { value } from '../log/overlay.js';
import { people } from '../page/season.js';
import { stepOf } from '../wayback/steps.js';

const USUAL_COURSE = '50';

/** @param {import('../app.js').App} app */
export function calibrate(app) {
  const { log, say, scratch } = app, who = scratch.who ?? app.walker, course = app.settings.course_m ?? USUAL_COURSE;
  const walks = log.all('crew').filter(c => value(c, 'observer') === who), all = stepOf(walks.map(w => ({ course_m: Number(value(w, 'course_m')), steps: Number(value(w, 'steps')) })));
  const write = async () => {
    if (!who || !(Number(course) > 0) || !(Number(scratch.steps) > 0)) return app.tell(say('calibrate_missing'), true);
    const fields = { observer: who, course_m: course, steps: scratch.steps, walked_on: app.today, ...(scratch.arm ? { arm_span_m: scratch.arm } : {}) };
    if (await app.touch([{ kind: 'crew', fields }])) { scratch.steps = ''; app.draw(); }
  };
  return el('section', {}, el('h1', {}, say('calibrate')), el('p', {}, say('calibrate_lead')),
    field(say('walker'), who, t => { scratch.who = t; app.draw(); }, { id: 'who', choices: people(log) }), field(say('course'), course, t => app.set('course_m', t), { id: 'course', inputMode: 'decimal' }),
    counter(app, say('steps'), scratch.steps ?? '', t => { scratch.steps = t; app.draw(); }, { id: 'steps' }), field(say('arm_span'), scratch.arm ?? '', t => { scratch.arm = t; app.draw(); }, { id: 'arm-span', inputMode: 'decimal' }),
    el('div.bar', {}, button(say('walk_done'), write, { look: 'main.big', id: 'walk-done' })),
    all.step === null ? null : el('p.lead', { id: 'step' }, say(all.spread === null ? 'step_is' : 'step_is_with_spread', { step: all.step.toFixed(2), spread: (all.spread ?? 0).toFixed(2), walks: all.walks })),
    el('div.row', {}, button(say('practice'), () => app.go('practice'), { id: 'to-practice' })));
}
