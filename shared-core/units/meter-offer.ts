import type { KitProblem, Result } from '../problem/problem.ts';
import { fail, succeed } from '../problem/problem.ts';
import { formatQuantity } from './format-quantity.ts';
import type { MeterFunction, MeterSetting } from './scpi-function.ts';
import { readScpiNumber } from './scpi-number.ts';

/** What a meter shows, ready for the entry field. */
export interface MeterOffer {
  /** For the field: `245.312`, `OL`. Read like anything typed. */
  readonly text: string;
  /** "245.3 V DC · 1 kV range" */
  readonly words: string;
}

/** Digits that are taken over: more than any band is wide, fewer than the noise of a bench meter. */
const digits = 6;

/**
 * Below this range OL says little about an open circuit, in ohms (Ω).
 *
 * Common practice, no source: a meter on automatic ends at 10 MΩ or more; one left on a low range shows OL for
 * a sound resistor.
 */
const leastOpenRange = 1e6;

const functionWords: Readonly<Record<MeterFunction, string>> = {
  'dc volts': 'DC volts',
  'ac volts': 'AC volts',
  ohms: 'ohms',
};

/**
 * What a meter's answer offers for a reading; a problem where it does not fit the reading.
 *
 * The meter's function is checked, never set: turning it is the builder's business, who knows where the probes are.
 *
 * @param wanted What the reading measures.
 * @param setting What the meter says it is set to.
 * @param reply The meter's answer, as sent.
 */
export function meterOffer(wanted: MeterFunction, setting: MeterSetting, reply: string): Result<MeterOffer> {
  if (setting.function !== wanted) return fail(otherFunction(wanted, setting));
  const unit = wanted === 'ohms' ? 'Ω' : 'V';
  const number = readScpiNumber(reply);
  const range = setting.range === null ? '' : ` · ${formatQuantity(setting.range, unit)} range`;
  switch (number.kind) {
    case 'value': {
      const kind = { 'dc volts': ' DC', 'ac volts': ' AC', ohms: '' }[wanted];
      return succeed({
        text: plainDecimal(number.value),
        words: `${formatQuantity(number.value, unit)}${kind}${range}`,
      });
    }
    case 'overload':
      if (wanted === 'ohms' && (setting.range ?? 0) >= leastOpenRange) {
        return succeed({ text: 'OL', words: `OL, beyond the range${range}` });
      }
      return fail(overload(setting, unit));
    case 'nothing':
      return fail(noReading);
    default:
      return fail(notANumber(reply));
  }
}

/** The text that a reply puts into the field; null where it puts none. To compare with what was entered. */
export function offeredText(reply: string): string | null {
  const number = readScpiNumber(reply);
  if (number.kind === 'value') return plainDecimal(number.value);
  return number.kind === 'overload' ? 'OL' : null;
}

/** A number without exponent, as people type it. */
function plainDecimal(value: number): string {
  const rounded = Number(value.toPrecision(digits)) + 0;
  if (Math.abs(rounded) >= 1e-6 || rounded === 0) return String(rounded);
  return String(Number(rounded.toFixed(9)) === 0 ? 0 : rounded.toFixed(9).replace(/0+$/, ''));
}

function otherFunction(wanted: MeterFunction, setting: MeterSetting): KitProblem {
  const is = setting.function === null ? setting.name : functionWords[setting.function];
  return {
    code: 'instrument/other-function',
    severity: 'error',
    message: `The meter is set to ${is}; this reading is taken in ${functionWords[wanted]}`,
    hint: 'Take the red probe off, turn the meter, then read again. Kitwright never turns a meter itself.',
  };
}

function overload({ range }: MeterSetting, unit: 'V' | 'Ω'): KitProblem {
  const where = range === null ? 'its range' : `its ${formatQuantity(range, unit)} range`;
  return {
    code: 'instrument/overload',
    severity: 'error',
    message: `The meter shows overload on ${where}: that is no reading`,
    hint: 'Turn the range up, or to automatic, and read again. If it is the highest range, type OL.',
  };
}

const noReading: KitProblem = {
  code: 'instrument/no-reading',
  severity: 'error',
  message: 'The meter answers, but it has no reading to give',
  hint: 'Look at its display: it may be on hold, or waiting for a trigger. You can always type the reading.',
};

function notANumber(reply: string): KitProblem {
  return {
    code: 'instrument/not-understood',
    severity: 'error',
    message: `The meter sent "${reply.slice(0, 40)}" where one number was expected`,
    hint: 'Set it to one plain number per reading. You can always type the reading.',
  };
}
