/** With the `u` flag a surrogate matches only where it has no partner. */
const loneSurrogate = /[\uD800-\uDFFF]/u;

/**
 * JSON in the one form that a hash can be taken of: RFC 8785 (JSON Canonicalization Scheme).
 *
 * Keys sorted by UTF-16 code units, no spaces, numbers and strings as ECMAScript writes them (RFC 8785,
 * sections 3.2.2 and 3.2.3). Members that are `undefined` are left out, as JSON does.
 *
 * @returns null where the RFC has no form: NaN, infinities, lone surrogates, and what is not JSON data.
 */
export function canonicalJson(value: unknown): string | null {
  switch (typeof value) {
    case 'boolean':
      return value ? 'true' : 'false';
    case 'number':
      return Number.isFinite(value) ? JSON.stringify(value) : null;
    case 'string':
      return !loneSurrogate.test(value) ? JSON.stringify(value) : null;
    case 'object':
      return value === null ? 'null' : Array.isArray(value) ? canonicalArray(value) : canonicalObject(value);
    default:
      return null;
  }
}

function canonicalArray(values: readonly unknown[]): string | null {
  const items = values.map(canonicalJson);
  return items.includes(null) ? null : `[${items.join(',')}]`;
}

function canonicalObject(value: object): string | null {
  const members: (string | null)[] = Object.entries(value)
    .filter(([, member]) => member !== undefined)
    .toSorted(([one], [other]) => (one < other ? -1 : one > other ? 1 : 0))
    .map(([key, member]) => {
      const text = canonicalJson(member);
      return text === null || loneSurrogate.test(key) ? null : `${JSON.stringify(key)}:${text}`;
    });
  return members.includes(null) ? null : `{${members.join(',')}}`;
}
