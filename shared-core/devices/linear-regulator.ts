import { defineDevice, type LocalStamp } from '../circuit/device.ts';

/** Softness of the ends of the pass current, seen at the reference, and of the headroom, in volts (V). */
const softReference = 5e-4;
const softVolts = 0.1;
/** Its own circuits work fully from this input on, in volts (V). */
const awakeVolts = 1;

/**
 * Three-terminal linear regulator, fixed or adjustable
 *
 * The pass current rises with what is missing of the reference voltage between output and adjust pin, from
 * nothing to the current limit, and needs headroom: `I = P((Vref − Vo + Va)/Ro)·tanh(h/(Rd·Ilim))`, h the
 * input-output voltage above the drop-out at no current. The regulator's own bias current leaves by the
 * output (an adjustable one: the least load that it needs) or by the adjust pin (a fixed one's ground pin).
 * Only sources: with less than the least load the output rises. No thermal shutdown, no reduction of the
 * limit at a high input-output voltage, no reverse current from a charged output (fit a diode). `polarity`
 * −1 is a negative regulator.
 */
export const linearRegulator = defineDevice({
  name: 'linear-regulator',
  pins: ['in', 'out', 'adjust'],
  parameters: [
    { name: 'polarity', unit: '', initial: 1, range: [-1, 1], meaning: '1 positive, −1 negative' },
    { name: 'referenceVolts', unit: 'V', initial: 1.25, range: [0.5, 100], meaning: 'Output to adjust pin' },
    { name: 'outputOhms', unit: 'Ω', initial: 0.01, range: [1e-3, 10], meaning: 'Load regulation' },
    { name: 'limitAmps', unit: 'A', initial: 1.5, range: [0.01, 20], meaning: 'Current limit' },
    {
      name: 'dropoutVolts',
      unit: 'V',
      initial: 1.5,
      range: [0.05, 5],
      meaning: 'Drop-out at little current',
    },
    { name: 'dropoutOhms', unit: 'Ω', initial: 0.4, range: [1e-3, 10], meaning: 'Its rise with the current' },
    {
      name: 'leastLoadAmps',
      unit: 'A',
      initial: 3.5e-3,
      range: [0, 0.1],
      meaning: 'Bias current out of the output',
    },
    {
      name: 'adjustAmps',
      unit: 'A',
      initial: 50e-6,
      range: [0, 0.1],
      meaning: 'Current out of the adjust pin',
    },
  ],
  evaluate,
  start: ([polarity, reference]) => {
    const sign = polarity! < 0 ? -1 : 1;
    return [
      [0, 2, sign * (reference! + 10)],
      [1, 2, sign * reference!],
    ];
  },
  limitStep,
  report(unknowns, parameters) {
    const out = { residuals: new Float64Array(3), derivatives: new Float64Array(9) };
    evaluate(unknowns, parameters, out);
    const sign = parameters[0]! < 0 ? -1 : 1;
    const [input, output, adjust] = unknowns as unknown as readonly number[];
    const amps = -sign * out.residuals[1]!;
    const across = sign * (input! - output!);
    return [
      { what: 'output current', unit: 'A', value: amps },
      { what: 'input-output voltage', unit: 'V', value: across },
      { what: 'headroom', unit: 'V', value: across - parameters[4]! - parameters[5]! * amps },
      {
        what: 'missing from the reference',
        unit: 'V',
        value: parameters[1]! - sign * (output! - adjust!),
      },
      {
        what: 'dissipation',
        unit: 'W',
        value: across * amps - out.residuals[2]! * (input! - adjust!),
      },
    ];
  },
});

/** Smooth ramp w·ln(1 + e^(x/w)): max(0, x) with a bend of the given width, and its slope. */
function ramp(x: number, width: number): readonly [number, number] {
  const ratio = x / width;
  if (ratio > 40) return [x, 1];
  const power = Math.exp(ratio);
  return [width * Math.log1p(power), power / (1 + power)];
}

/** max(0, x) with a parabola from 0 to the given width: ends exactly, and its slope. */
function bend(x: number, width: number): readonly [number, number] {
  if (x <= 0) return [0, 0];
  return x < width ? [(x * x) / (2 * width), x / width] : [x - width / 2, 1];
}

/** Pass current that a shortfall of the reference asks for, in volts (V): up to the limit, and its slope. */
function demand(volts: number, ohms: number, limit: number): readonly [number, number] {
  const [low, lowSlope] = ramp(volts, softReference);
  const [high, highSlope] = ramp(volts - limit * ohms, softReference);
  return low - high > 0.999 * limit * ohms && high > 40 * softReference
    ? [limit, 0]
    : [(low - high) / ohms, (lowSlope - highSlope) / ohms];
}

function evaluate(unknowns: Float64Array, parameters: Float64Array, out: LocalStamp): void {
  const [polarity, reference, ohms, limit, dropout, dropoutOhms, least, adjustAmps] =
    parameters as unknown as readonly number[];
  const sign = polarity! < 0 ? -1 : 1;
  const input = sign * (unknowns[0]! - unknowns[2]!);
  const output = sign * (unknowns[1]! - unknowns[2]!);
  const [asked, askedSlope] = demand(reference! - output, ohms!, limit!);
  const [headroom, headroomSlope] = bend(input - output - dropout!, softVolts);
  const width = dropoutOhms! * limit!;
  const open = Math.tanh(headroom / width);
  const openSlope = ((1 - open * open) * headroomSlope) / width;
  const part = Math.min(1, Math.max(0, input / awakeVolts));
  const life = part * part * (3 - 2 * part);
  const lifeSlope = (6 * part * (1 - part)) / awakeVolts;
  const amps = (asked + least!) * open;
  const byInput = (asked + least!) * openSlope;
  const byOutput = -askedSlope * open - byInput;
  const ground = adjustAmps! * life;
  const groundSlope = adjustAmps! * lifeSlope;
  out.residuals[0] = sign * (amps + ground);
  out.residuals[1] = -sign * amps;
  out.residuals[2] = -sign * ground;
  const fill = (row: number, first: number, second: number): void => {
    out.derivatives[row * 3] = first;
    out.derivatives[row * 3 + 1] = second;
    out.derivatives[row * 3 + 2] = -first - second;
  };
  fill(0, byInput + groundSlope, byOutput);
  fill(1, -byInput, -byOutput);
  fill(2, -groundSlope, 0);
}

/**
 * Three windows must not be jumped over: where the pass current is neither nothing nor the limit, where the
 * headroom shuts it, and where the input wakes it up. Outside them the law is flat.
 */
function limitStep(last: Float64Array, next: Float64Array, parameters: Float64Array): boolean {
  const sign = parameters[0]! < 0 ? -1 : 1;
  const [, reference, ohms, limit, dropout, dropoutOhms] = parameters as unknown as readonly number[];
  const input = sign * (next[0]! - next[2]!);
  const output = sign * (next[1]! - next[2]!);
  const lastInput = sign * (last[0]! - last[2]!);
  const lastOutput = sign * (last[1]! - last[2]!);
  const heldInput = hold(lastInput, input, 0, awakeVolts);
  // What bounds the output: the reference, or the input less the drop-out.
  const least = dropout! + softVolts / 4;
  const isShort = heldInput - least < reference!;
  const byReference = isShort ? output : hold(lastOutput, output, reference! - ohms! * limit!, reference!);
  const head = heldInput - output;
  const lastHead = lastInput - lastOutput;
  const leaves = lastHead > least && head < least && lastHead - least > softVolts / 4;
  // Below the drop-out the law is flat: the way there goes in pieces.
  const heldHead = leaves
    ? least + Math.min(lastHead - least, dropoutOhms! * limit!) / 4
    : hold(lastHead, head, least, least + dropoutOhms! * limit!);
  const isShut = byReference === output && heldHead !== head;
  const heldOutput = isShut ? heldInput - heldHead : byReference;
  if (heldOutput === output && heldInput === input) return false;
  next[1] = next[2]! + sign * heldOutput;
  next[0] = next[2]! + sign * heldInput;
  return true;
}

/** Stops a step in the middle of a window that it would jump over or into. */
function hold(from: number, to: number, low: number, high: number): number {
  const middle = (low + high) / 2;
  if (from <= low && to > middle) return middle;
  if (from >= high && to < middle) return middle;
  return to;
}
