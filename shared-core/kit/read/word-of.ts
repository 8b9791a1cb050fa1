/** A value from a kit file as a word for a message; a table or list has no word. */
export function wordOf(value: unknown): string {
  if (typeof value === 'string') return value;
  if (typeof value === 'number' || typeof value === 'boolean') return String(value);
  return value === null || value === undefined ? '' : 'a table or list';
}
