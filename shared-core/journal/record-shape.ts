import {
  count,
  flag,
  listOf,
  nullable,
  number as finite,
  object,
  oneOf,
  recordOf,
  text,
  type Shape,
} from './shape.ts';

const any: Shape = () => true;

/** Largest figure that is believed, in any unit: nothing on a bench comes near. Our own bound. */
const largest = 1e15;
const number: Shape = (value) => finite(value) && Math.abs(Number(value)) <= largest;
/** A safe voltage, in volts (V): IEC 61010-1 goes no higher than 60 V DC. */
const safeVolts: Shape = (value) => number(value) && Number(value) > 0 && Number(value) <= 60;

const titled = object({ id: text, title: text });
const verdict = oneOf('as expected', 'borderline', 'out of band', 'stop', 'still warming', 'not predicted');
const measure = oneOf('dc volts', 'ac volts', 'ohms', 'insulation', 'gain');
const value = object({ kind: oneOf('value'), value: number });
const overload = object({ kind: oneOf('overload') });
const meterEntry: Shape = (member) => value(member) || overload(member);
const figure = nullable(number);
const optional =
  (shape: Shape): Shape =>
  (member) =>
    member === undefined || shape(member);

const band = object({ low: figure, nominal: figure, high: figure, lowest: figure, highest: figure });

const reading = object({
  entries: listOf(
    object({
      seq: count,
      at: text,
      entry: meterEntry,
      typed: text,
      verdict,
      band: nullable(band),
      bandShownBefore: flag,
    }),
  ),
  verdict,
  settled: oneOf('open', 'repaired', 'accepted', 'settled'),
  counts: flag,
  acceptedReason: nullable(text),
});

const drain = object({
  seq: count,
  why: text,
  plugOutAt: nullable(text),
  timeKnown: flag,
  looks: listOf(
    object({
      store: text,
      at: text,
      volts: number,
      seconds: figure,
      hurried: flag,
      fastVolts: figure,
      likelyVolts: figure,
      slowVolts: figure,
    }),
  ),
  clips: listOf(object({ store: text, at: text, ohms: number })),
  provenAt: nullable(text),
  provenSeq: nullable(count),
});

const fixedInput = object({ kind: oneOf('fixed'), ohms: number });
const perVoltInput = object({ kind: oneOf('per-volt'), ohmsPerVolt: number });
const bench = object({
  mains: object({ volts: number, hertz: number, source: text }),
  meter: object({
    label: text,
    input: (member) => fixedInput(member) || perVoltInput(member),
    accuracy: object({ dcVolts: number, acVolts: number, ohms: number }),
    ratedVolts: number,
    category: text,
    ohmsTest: optional(object({ volts: number, plusOn: text })),
  }),
  leads: object({ ratedVolts: number, ohms: number }),
  lampWatts: figure,
  batteryVolts: figure,
  hasInsulationTester: flag,
});

const dead = object({ kind: oneOf('dead'), proof: text });
const live = object({ kind: oneOf('live'), condition: text });
const draining = object({ kind: oneOf('draining'), why: text });
const energy: Shape = (member) => dead(member) || live(member) || draining(member);

const build = object({
  build: text,
  kit: text,
  revision: text,
  kitHash: text,
  choices: recordOf(text),
  startedFrom: oneOf('loose parts', 'assembled', 'old record'),
  seq: count,
  startedAt: nullable(text),
  lastAt: nullable(text),
  bench: nullable(bench),
  fitted: object({ measured: recordOf(number), valves: recordOf(text) }),
  valves: recordOf(object({ type: text, brand: text, dateCode: text, stock: text, label: text })),
  differing: recordOf(object({ how: text, what: text })),
  steps: recordOf(object({ status: text, reopened: count })),
  readings: recordOf(reading),
  cautions: listOf(object({ caution: text, text, at: text })),
  plugIns: listOf(object({ seq: count, condition: text, at: text, outAt: nullable(text) })),
  drains: listOf(drain),
  stops: listOf(object({ reading: text, at: text, typed: text })),
  wrongs: listOf(object({ at: text, signs: listOf(text), what: text })),
  repairs: listOf(
    object({
      at: text,
      what: text,
      cause: optional(object({ part: text, kind: text, words: text, probability: number })),
    }),
  ),
  measuredPlaces: optional(listOf(object({ reading: text, at: text, against: text, time: text }))),
  fuses: listOf(object({ part: text, at: text, what: text, amps: number, speed: text })),
  notes: listOf(object({ about: nullable(text), text, at: text })),
  photos: listOf(object({ about: nullable(text), text, at: text, file: text })),
  kitChanges: listOf(object({ at: text, revision: text })),
  dayOne: optional(object({ at: nullable(text), readings: recordOf(meterEntry) })),
  signature: nullable(object({ name: text, at: text })),
  declared: flag,
  insulationNotTested: flag,
  probeStyle: nullable(text),
  safety: object({
    energy,
    findings: listOf(object({ kind: text, store: text, volts: number, stamp: object({ at: text }) })),
    instruments: optional(listOf(object({ name: text, address: text, isolated: flag, earthVolts: number }))),
  }),
  refusedEntries: listOf(count),
});

const curve = object({ seconds: listOf(number), volts: listOf(number) });
const facts = object({
  safeVolts,
  stores: listOf(
    object({
      part: text,
      plus: text,
      minus: text,
      volts: number,
      joules: number,
      fastSeconds: figure,
      likelySeconds: figure,
      slowSeconds: figure,
      fast: curve,
      likely: curve,
      slow: curve,
    }),
  ),
  steps: listOf(any),
  readings: listOf(
    object({
      id: text,
      title: text,
      at: text,
      against: text,
      measure,
      in: text,
      expect: nullable(object({ above: optional(number), below: optional(number) })),
      stopAbove: figure,
      stopBelow: figure,
    }),
  ),
});

/**
 * Everything of a record that is read without looking twice: by the report, by the screen that opens it.
 *
 * Members that are not named here may be there or not. The events have a shape of their own, and a record with
 * events that this version does not know can still be read.
 */
export const isRecordShape: Shape = object({
  app: text,
  kit: object({
    id: text,
    name: text,
    maker: text,
    revision: text,
    kitHash: text,
    safeVolts,
    conditions: listOf(titled),
    chapters: listOf(titled),
    steps: listOf(object({ id: text, title: text, chapter: text })),
    readings: listOf(
      object({
        id: text,
        title: text,
        at: text,
        against: text,
        measure,
        unit: oneOf('V', 'Ω', ''),
        in: text,
      }),
    ),
    parts: recordOf(text),
  }),
  header: object({ format: text, build: text, kit: text, revision: text, kitHash: text }),
  entries: listOf(any),
  build,
  facts,
  photos: listOf(object({ file: text, sha256: text, base64: text })),
  together: optional(
    object({
      healthy: flag,
      distance: number,
      limit: number,
      readings: count,
      standsOut: nullable(text),
      side: nullable(oneOf('higher', 'lower')),
      words: text,
    }),
  ),
  question: optional(object({ about: nullable(text), text, photos: listOf(text) })),
  seal: text,
});
