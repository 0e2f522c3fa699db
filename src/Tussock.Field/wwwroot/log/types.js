/**
 * The shapes that the phone's log deals in; the contract is docs/field-bundle.md.
 * @typedef {{ value: string, replaces: string[] }} FieldChange
 * @typedef {{ id: string, batch: string, device: string, device_seq: number, season: string, kind: string, record: string, op: 'create'|'set'|'void',
 *   fields: Record<string, FieldChange>, by: string, said_at: string, offset_min: number, source: string, format: number }} Change
 * @typedef {{ kind: string, record?: string, op?: 'create'|'set'|'void', fields: Record<string, string> }} Said  One record of a touch, before the log fills in the rest.
 * @typedef {{ id: string, change: Change, before: Record<string, string>, state: 'waiting'|'accepted'|'refused', position: number, why: string }} Entry  One change in the outbox.
 * @typedef {{ value: string, heads: string[] }} Shown  A value and the changes that stand behind it.
 * @typedef {{ id: string, kind: string, fields: Record<string, Shown> }} Row
 * @typedef {{ sha256: string, type: string, bytes: Blob, state: 'waiting'|'sent' }} Medium
 * @typedef {{ device: string, key: string, season: string, name: string, seq: number, last_id: string, etag: string }} Self  Who this phone is.
 */
export {};
