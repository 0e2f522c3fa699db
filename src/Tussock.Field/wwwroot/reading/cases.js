/** Which cases there are, and which comes next. Pure. */

/** @typedef {{ id?: string, views?: string[], remains: string[][], truth: number, program: number[], common?: number[], why: Record<string, string>[] }} Case `id`, `views` and `common`: of cases from here
 * @typedef {{ set: string, isHere: boolean, classes: any[], cases: Case[] }} Cases
 * @typedef {{ set: string, number: number, id?: string, isHere?: boolean, said: number[], truth: number, isAgain: boolean, program: number, common: number }} Done a case that was answered; `number` from 0, penalties of the program and of the shares alone */

const HERE = 'here';

/** The invented cases of a snapshot, or those from here. @param {any} practice @param {boolean} isHere @returns {Cases} */
export const casesOf = (practice, isHere) => isHere
  ? { set: HERE, isHere, classes: practice?.from_here?.classes ?? [], cases: practice?.from_here?.cases ?? [] }
  : { set: practice?.set ?? '', isHere, classes: practice?.classes ?? [], cases: practice?.cases ?? [] };

/** Whether an answer was about this case: those from here come and go, and keep their ids. @param {Cases} of @param {number} number @param {Done} done */
const isOf = (of, number, done) => done.set === of.set && (of.isHere ? done.id === of.cases[number].id : done.number === number);

/** The case that was answered least often, of equals the first, and how often that was. @param {Cases} of @param {Done[]} done @returns {{ number: number, times: number }} */
export function next(of, done) {
  const times = of.cases.map((_, number) => done.filter(d => isOf(of, number, d)).length), least = Math.min(...times);
  return { number: times.indexOf(least), times: least };
}

/** The case that an answer was about; nothing where it has gone. @param {Cases} of @param {Done} done @returns {Case|undefined} */
export const answered = (of, done) => of.cases.find((_, number) => isOf(of, number, done));

/** How common each class is before anything is looked at. @param {Cases} of @param {Case} one @returns {number[]} */
export const common = (of, one) => one.common ?? of.classes.map(c => c.percent);
