/** With the `u` flag a surrogate matches only where it has no partner. */
const loneSurrogate = /[\uD800-\uDFFF]/u;

/** Strings that JSON writes as they are: printable ASCII without quote and backslash. */
const plainText = /^[ !#-[\]-~]*$/;

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
      return canonicalText(value);
    case 'object':
      return value === null ? 'null' : Array.isArray(value) ? canonicalArray(value) : canonicalObject(value);
    default:
      return null;
  }
}

function canonicalText(text: string): string | null {
  if (plainText.test(text)) return `"${text}"`;
  return loneSurrogate.test(text) ? null : JSON.stringify(text);
}

function canonicalArray(values: readonly unknown[]): string | null {
  let out = '[';
  for (const value of values) {
    const text = canonicalJson(value);
    if (text === null) return null;
    out += out.length === 1 ? text : `,${text}`;
  }
  return `${out}]`;
}

/** A plain sort is by UTF-16 code units, as the RFC wants it. */
function canonicalObject(value: object): string | null {
  const members = value as Readonly<Record<string, unknown>>;
  let out = '{';
  for (const name of Object.keys(members).toSorted()) {
    const member = members[name];
    if (member === undefined) continue;
    const [key, text] = [canonicalText(name), canonicalJson(member)];
    if (key === null || text === null) return null;
    out += out.length === 1 ? `${key}:${text}` : `,${key}:${text}`;
  }
  return `${out}}`;
}
