import { z } from 'zod';
import type { ProblemCode } from '../../problem/problem-codes.ts';
import { exampleOf, readQuantity } from '../../units/read-quantity.ts';
import type { Unit } from '../../units/unit.ts';
import type { Tolerance } from '../kit.ts';

// Zod would otherwise try `new Function` once, which a content policy reports.
z.config({ jitless: true });

/** Longest title and longest prose, in characters: a step is read from a metre away. */
export const LONGEST_TITLE = 120;
export const LONGEST_PROSE = 2000;

/** Anything that could be markup; a bare `<` before a digit or a space is a comparison. */
const MARKUP = /<[/!]?[a-z][^>]*>|<!--|&#?\w+;/iu;

/** What a field check says beside its message. */
export interface FieldProblem {
  readonly problem: ProblemCode;
  readonly hint: string;
}

type Context = { addIssue: (issue: { code: 'custom'; message: string; params: FieldProblem }) => void };

/** Adds a problem of ours to a zod check. */
export function raise(context: Context, problem: ProblemCode, message: string, hint: string): never {
  context.addIssue({ code: 'custom', message, params: { problem, hint } });
  return z.NEVER;
}

const written = z.union([z.string(), z.number()]);

/** Reads a quantity and says what is wrong with it. */
export function readField(text: string, unit: Unit, context: Context): number {
  const reading = readQuantity(text, unit);
  if (!reading.ok) return raise(context, 'kit/quantity', reading.message, reading.hint);
  // "4k7" and "100" are ohms and "47u" is farads in the trade; everything else names its unit.
  const isShorthand = unit === 'Ω' || unit === '' || unit === '°' || (unit === 'F' && reading.prefixGiven);
  if (!reading.unitGiven && !isShorthand) {
    const message = `"${text}" has no unit; expected a value in ${unit}`;
    return raise(context, 'kit/quantity-unit', message, `Write the unit: ${exampleOf(unit)}.`);
  }
  return reading.value;
}

/** A quantity above zero, in SI. */
export function quantity(unit: Unit) {
  return written
    .transform((raw, context) => {
      const value = readField(String(raw), unit, context);
      // What is not a number is reported by then.
      if (typeof value !== 'number' || value > 0) return value;
      const message = `Expected a value above zero, received "${raw}"`;
      return raise(context, 'kit/quantity', message, `For instance ${exampleOf(unit)}.`);
    })
    .meta({ description: `A value in ${unit || 'plain numbers'}, for instance ${exampleOf(unit)}` });
}

/** A quantity that may be zero or negative. */
export function signedQuantity(unit: Unit) {
  return written
    .transform((raw, context) => readField(String(raw), unit, context))
    .meta({ description: `A value in ${unit || 'plain numbers'}, for instance ${exampleOf(unit)}` });
}

/** A quantity in one of several units; which one depends on the reading. */
export function quantityIn(units: readonly Unit[]) {
  return written.transform((raw, context) => {
    for (const unit of units) {
      const reading = readQuantity(String(raw), unit);
      if (reading.ok && reading.unitGiven) return { value: reading.value, unit };
    }
    const message = `Expected a value in ${units.filter(Boolean).join(' or ')}, received "${raw}"`;
    return raise(
      context,
      'kit/quantity-unit',
      message,
      `Write number and unit: ${exampleOf(units[0] ?? 'V')}.`,
    );
  });
}

/** ±5 %, or the two limits: `[-20 %, +50 %]`. */
export const tolerance = z
  .union([written, z.tuple([written, written])])
  .transform((raw, context): Tolerance => {
    const [low, high] = Array.isArray(raw) ? raw : [raw, raw];
    const limits = [readField(String(low), '%', context), readField(String(high), '%', context)];
    if (limits.some((limit) => typeof limit !== 'number')) return z.NEVER;
    const [first = 0, second = 0] = limits;
    const result = Array.isArray(raw) ? { low: first, high: second } : { low: -first, high: first };
    if (result.low <= 0 && result.high >= 0 && result.low > -1) return result;
    const message = `Expected limits round zero, received ${first * 100} % to ${second * 100} %`;
    return raise(context, 'kit/quantity', message, 'Write 5 % or [-20 %, +50 %].');
  })
  .meta({ description: 'For instance 5 %, or [-20 %, +50 %]' });

/** A whole number, not negative. */
export const wholeNumber = written.transform((raw, context) => {
  if (/^\d{1,4}$/.test(String(raw).trim())) return Number(raw);
  const message = `Expected a whole number, received "${raw}"`;
  return raise(context, 'kit/quantity', message, 'For instance 6.');
});

/** Yes or no. */
export const yesOrNo = z
  .union([z.boolean(), z.enum(['true', 'false'])])
  .transform((raw) => String(raw) === 'true');

/** Words for people: no markup, not over-long. */
export function prose(longest: number) {
  return z.string().transform((text, context) => {
    if (text.length > longest) {
      const message = `The text has ${text.length} characters; at most ${longest} fit here`;
      raise(
        context,
        'kit/text-too-long',
        message,
        'Shorten it, or move detail into "more" or further steps.',
      );
    }
    const markup = MARKUP.exec(text);
    if (markup) {
      const message = `"${markup[0].slice(0, 40)}" looks like markup; texts are plain`;
      raise(context, 'kit/html', message, 'Remove the tag; write < as "below".');
    }
    return text;
  });
}

/** A short line of prose. */
export const title = prose(LONGEST_TITLE);

/** An id of ours: small letters, digits and hyphens. */
export const ID = /^[a-z][a-z0-9-]{0,47}$/;
/** A part: capitals and digits, with a channel as `V2-left`. */
export const PART_ID = /^[A-Z]{1,4}[0-9]{1,3}[A-Z]?(-[a-z]+)?$/;
/** A lead. */
export const LEAD_ID = /^W[0-9]{1,4}[a-z]?(-[a-z]+)?$/;

/** Somewhere to solder or to measure; whether it exists is checked when the whole kit is known. */
export const place = z
  .string()
  .max(60)
  .meta({ description: 'PART.END such as TS1.4 or T1.ht.ct, a net, chassis or inlet.line' });

export const when = z.record(z.string(), z.string()).default({});

/** Written once, there once for each channel: `V1` becomes `V1-left` and `V1-right`. */
export const channels = z
  .array(z.string().regex(/^[a-z]+$/))
  .min(1)
  .max(8)
  .optional()
  .meta({ description: 'For instance [left, right]: one for each channel, named V1-left and V1-right' });
