/** What the screen shows: the snapshot with the phone's own outbox on top. Nothing is merged here. */

/** @typedef {import('./types.js').Row} Row @typedef {import('./types.js').Change} Change */

/** Rows by id, of all kinds. @param {any} bundle the snapshot, or null @returns {Map<string, Row>} */
export function rowsOf(bundle) {
  const rows = new Map();
  for (const [kind, list] of Object.entries(bundle?.records ?? {})) {
    for (const record of /** @type {any[]} */ (list)) {
      /** @type {Row} */ const row = { id: record.id, kind, fields: {} };
      for (const [name, [value, ...heads]] of Object.entries(record.fields)) {
        row.fields[name] = { value, heads: heads.map((/** @type {number} */ i) => record.changes[i]) };
      }
      rows.set(row.id, row);
    }
  }
  return rows;
}

/** Puts one change on top: its heads go in for those it replaces; the greatest id is shown. @param {Map<string, Row>} rows @param {Change} change */
export function apply(rows, change) {
  const row = rows.get(change.record) ?? { id: change.record, kind: change.kind, fields: {} };
  rows.set(row.id, row);
  for (const [name, said] of Object.entries(change.fields)) {
    const shown = row.fields[name] ?? { value: '', heads: [] };
    if (shown.heads.includes(change.id)) continue;
    const left = shown.heads.filter(h => !said.replaces.includes(h));
    const isShown = left.every(h => h < change.id);
    row.fields[name] = { value: isShown ? said.value : shown.value, heads: [...left, change.id] };
  }
}

/** @param {Row} row */
export const isVoid = row => row.fields['#void']?.value === 'yes';

/** @param {Row|undefined} row @param {string} name @returns {string} */
export const value = (row, name) => row?.fields[name]?.value ?? '';
