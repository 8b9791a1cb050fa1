import { wrongSigns } from '../safety/events.ts';
import type { BuildEvent } from './build-event.ts';
import {
  count,
  flag,
  isObject,
  listOf,
  nullable,
  number,
  object,
  oneOf,
  optional,
  recordOf,
  text,
  type Shape,
} from './shape.ts';

const by = oneOf('hand', 'voice', 'foot', 'repeat', 'instrument');
const speed = oneOf('F', 'T');
const setup = object({ function: oneOf('dc volts', 'ac volts', 'ohms'), range: text, leads: text });
const band = object({
  low: nullable(number),
  nominal: nullable(number),
  high: nullable(number),
  lowest: nullable(number),
  highest: nullable(number),
});
const verdict = oneOf('as expected', 'borderline', 'out of band', 'stop', 'still warming', 'not predicted');
const entryValue = object({ kind: oneOf('value'), value: number });
const entryOverload = object({ kind: oneOf('overload') });
const entry: Shape = (value) => entryValue(value) || entryOverload(value);
const fixedInput = object({ kind: oneOf('fixed'), ohms: number });
const perVoltInput = object({ kind: oneOf('per-volt'), ohmsPerVolt: number });
const instrument = object({
  identity: text,
  name: text,
  address: text,
  isolated: flag,
  earthVolts: number,
});
const cause = object({ part: text, kind: text, words: text, probability: number });
const takenFrom = object({ instrument: text, reply: text, function: text, range: nullable(number) });
const bench = object({
  mains: object({ volts: number, hertz: number, source: oneOf('measured', 'assumed') }),
  meter: object({
    label: text,
    input: (value) => fixedInput(value) || perVoltInput(value),
    accuracy: object({ dcVolts: number, acVolts: number, ohms: number }),
    ratedVolts: number,
    category: oneOf('none', 'CAT II', 'CAT III', 'CAT IV'),
    ohmsTest: optional(object({ volts: number, plusOn: oneOf('red', 'black') })),
  }),
  leads: object({ ratedVolts: number, ohms: number }),
  lampWatts: nullable(number),
  batteryVolts: nullable(number),
  hasInsulationTester: flag,
});

/** The members of every kind of event; a kind left out fails to compile. */
const shapes = {
  'run-started': {},
  heartbeat: { missedMs: number },
  'journal-cut': { suspect: flag, why: text },
  'declared-assembled': { by },
  'bench-recorded': { by, bench },
  'instrument-recorded': { by, instrument },
  'meter-shown-to-work': { by, setup, volts: number },
  'caution-acknowledged': { by, caution: text, text },
  'reading-entered': {
    by,
    reading: text,
    entry,
    typed: text,
    verdict,
    band: nullable(band),
    bandShownBefore: flag,
    corrects: nullable(count),
    instrument: optional(takenFrom),
  },
  'insulation-not-tested': { by },
  'fuse-read': { by, part: text, amps: number, speed, typed: text },
  'verdict-accepted': { by, reading: text, reason: text },
  repaired: {
    by,
    readings: listOf(text),
    what: text,
    places: optional(listOf(text)),
    cause: optional(cause),
  },
  'mains-switch-off': { by },
  'clip-fitted': { by, store: text, ohms: number, watts: number },
  'clip-removed': { by, store: text },
  'black-lead-clipped': { by },
  'probe-style-chosen': { by, style: oneOf('hooks', 'hand-held') },
  'red-lead-in-volts': { by },
  'plugged-in': { by, condition: text, step: nullable(text) },
  'found-plugged-in': { by },
  'plug-out-confirmed': { by },
  'store-look': { by, store: text, volts: number, setup, enteredAfterMs: number },
  'look-checked': { by, store: text, place: flag, dcFunction: flag, range: flag, hold: flag, leads: flag },
  'work-inside': { by, what: text, places: listOf(text), mainsSide: flag, soldering: flag },
  'looked-over': { by },
  'something-wrong': { by },
  'wrong-described': { by, signs: listOf(oneOf(...wrongSigns)), what: text },
  'fuse-sides-looked': { by, part: text, aVolts: number, bVolts: number },
  'fuse-replaced': { by, part: text, amps: number, speed },
  'adjuster-set': { by, adjuster: text, mostNegative: flag },
  'valve-fitted': {
    by,
    socket: text,
    type: text,
    brand: text,
    dateCode: text,
    stock: oneOf('new', 'old stock', 'used', 'not known'),
    label: text,
  },
  'valve-removed': { by, socket: text },
  'step-started': { by, step: text },
  'step-ticked': { by, step: text, item: count, ticked: flag },
  'step-done': { by, step: text },
  'step-reopened': { by, step: text, why: text },
  'kit-changed': {
    by,
    revision: text,
    kitHash: text,
    reopenedSteps: listOf(text),
    changedReadings: listOf(text),
  },
  'build-started': {
    by,
    startedFrom: oneOf('loose parts', 'assembled', 'old record'),
    choices: recordOf(text),
    app: text,
  },
  'part-measured': { by, part: text, value: number, typed: text },
  'part-differs': { by, part: text, how: oneOf('missing', 'fitted instead'), what: text },
  'place-measured': { by, reading: text, at: text, against: text, entry, typed: text },
  'note-written': { by, about: nullable(text), text },
  'day-one-taken': { by, record: text, at: nullable(text), readings: recordOf(entry) },
  'photo-added': { by, about: nullable(text), file: text, sha256: text, caption: text },
  'band-shown': { reading: text },
  signed: { by, name: text },
  exported: { by, what: oneOf('record', 'report') },
} satisfies Record<BuildEvent['kind'], Readonly<Record<string, Shape>>>;

/** Whether something read from a file is an event that this version knows, with all its members. */
export function isBuildEvent(value: unknown): value is BuildEvent {
  if (!isObject(value) || typeof value['kind'] !== 'string' || !Object.hasOwn(shapes, value['kind']))
    return false;
  const members: Readonly<Record<string, Shape>> = shapes[value['kind'] as BuildEvent['kind']];
  return Object.entries(members).every(([key, shape]) => shape(value[key]));
}
