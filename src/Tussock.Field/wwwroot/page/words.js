/** Sentences: the bundle's, and a few of the app's own before there is a bundle. */
import { BUILT_IN } from './built-in-words.js';

/** @typedef {(key: string, args?: Record<string, string|number>) => string} Say */

/** @param {any} bundle @param {string} language @returns {Say} */
export function speaker(bundle, language) {
  const words = bundle?.words[language] ?? bundle?.words.en ?? {};
  return (key, args = {}) => {
    const template = words['field_app.' + key] ?? BUILT_IN[key] ?? key;
    return template.replace(/\{([a-z_]+)(?:\|([^|}]*)\|([^}]*))?\}/g, (/** @type {string} */ _, /** @type {string} */ name, /** @type {string|undefined} */ one, /** @type {string} */ many) => {
      const value = args[name] ?? '';
      return one === undefined ? String(value) : (Number(value) === 1 ? one : many).replaceAll('#', String(value));
    });
  };
}

/** A sentence that the desk made, in this language. @param {Record<string, string>|null|undefined} said @param {string} language */
export const inWords = (said, language) => said?.[language] ?? said?.en ?? '';

/** A date as people read it. @param {string} date YYYY-MM-DD @param {string} language */
export const shortDate = (date, language) => date ? new Intl.DateTimeFormat(language, { timeZone: 'UTC', weekday: 'short', day: 'numeric', month: 'short' }).format(Date.parse(date + 'T00:00:00Z')) : '';
