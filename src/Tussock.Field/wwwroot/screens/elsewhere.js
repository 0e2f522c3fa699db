/** The app is open in another window of this phone: only one writes. */
import { button, el } from '../page/dom.js';

/** @param {import('../page/words.js').Say} say @param {() => void} take */
export const elsewhere = (say, take) => el('section', { id: 'elsewhere' }, el('h1', { tabIndex: -1 }, say('elsewhere_title')), el('p', {}, say('elsewhere')), button(say('work_here'), take, { id: 'work-here', look: 'main.big' }));
