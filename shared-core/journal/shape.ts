/** Says whether a value from outside has a shape. */
export type Shape = (value: unknown) => boolean;

export const text: Shape = (value) => typeof value === 'string';
export const number: Shape = (value) => typeof value === 'number' && Number.isFinite(value);
export const flag: Shape = (value) => typeof value === 'boolean';

/** A whole number from 0. */
export const count: Shape = (value) => Number.isSafeInteger(value) && Number(value) >= 0;

export function oneOf(...options: readonly string[]): Shape {
  return (value) => typeof value === 'string' && options.includes(value);
}

export function nullable(shape: Shape): Shape {
  return (value) => value === null || shape(value);
}

/** A member that older files lack. */
export function optional(shape: Shape): Shape {
  return (value) => value === undefined || shape(value);
}

export function listOf(shape: Shape): Shape {
  return (value) => Array.isArray(value) && value.every((item) => shape(item));
}

/** An object with at least these members; others are let be. */
export function object(members: Readonly<Record<string, Shape>>): Shape {
  const list = Object.entries(members);
  return (value) => isObject(value) && list.every(([key, shape]) => shape(value[key]));
}

/** An object whose members all have one shape. */
export function recordOf(shape: Shape): Shape {
  return (value) => isObject(value) && Object.values(value).every((member) => shape(member));
}

/** A JSON object, not an array and not null. */
export function isObject(value: unknown): value is Readonly<Record<string, unknown>> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}
