import { z } from 'zod';
import { semiconductorSchemas } from './semiconductors.ts';
import {
  channels,
  place,
  prose,
  quantity,
  raise,
  title,
  tolerance,
  wholeNumber,
  when,
  LONGEST_TITLE,
} from './fields.ts';

const common = { title, when, channels, marking: prose(LONGEST_TITLE).optional() };
const between = z.tuple([place, place]);

/** `6.3 V`, or `250-0-250 V` for a centre-tapped winding. */
const windingVolts = z.string().transform((text, context) => {
  const tapped = /^([\d.,]+)\s*-\s*0\s*-\s*([\d.,]+)\s*V$/u.exec(text.normalize('NFKC').trim());
  const [, first = text, second = first] = tapped ?? [];
  const one = quantity('V').safeParse(tapped ? `${first} V` : text);
  const isEven = first === second;
  if (!one.success || !isEven) {
    const message = `Expected a winding voltage, received "${text}"`;
    return raise(context, 'kit/quantity', message, 'Write 6.3 V, or 250-0-250 V with equal halves.');
  }
  return { volts: one.data, centreTapped: tapped !== null };
});

const winding = z
  .strictObject({
    volts: windingVolts,
    at: quantity('A'),
    dcr: z
      .union([quantity('Ω').transform((ohms) => [ohms]), z.array(quantity('Ω')).min(1).max(2)])
      .optional(),
    tap: quantity('V').optional(),
  })
  .transform((written, context) => {
    // What is not a voltage has been reported by then.
    if (written.tap === undefined || !(written.tap >= written.volts?.volts)) return written;
    const message = `Expected a tap below the winding's ${written.volts.volts} V, received ${written.tap} V`;
    return raise(
      context,
      'kit/quantity',
      message,
      'State the volts from the centre tap, or from end b, to the tap.',
    );
  });

/** Taps beside the end that `volts` belongs to: each at its own voltage. */
const primary = z
  .strictObject({
    volts: quantity('V'),
    dcr: quantity('Ω').optional(),
    taps: z.array(quantity('V')).min(1).max(6).optional(),
  })
  .transform((written, context) => {
    const all = [written.volts, ...(written.taps ?? [])];
    const twice = all.find((volts, index) => all.indexOf(volts) !== index);
    if (twice === undefined) return written;
    const message = `The primary has its end for ${twice} V twice`;
    const hint = 'End b is the one for `volts`; list under `taps` the other ones only.';
    return raise(context, 'kit/quantity', message, hint);
  });

/** Part of the turns, 1 % to 99 %. */
const screenTaps = quantity('%').transform((share, context) => {
  if (share >= 0.01 && share <= 0.99) return share;
  return raise(context, 'kit/quantity', `Expected 1 % to 99 % of the turns`, 'For instance 43 %.');
});

/** One schema for each kind of part, before ids are known. */
export const partSchemas = {
  resistor: z.strictObject({
    kind: z.literal('resistor'),
    ...common,
    value: quantity('Ω'),
    tolerance,
    rating: quantity('W'),
    between,
  }),
  potentiometer: z.strictObject({
    kind: z.literal('potentiometer'),
    ...common,
    value: quantity('Ω'),
    tolerance,
    taper: z.enum(['linear', 'logarithmic']),
    rating: quantity('W'),
  }),
  capacitor: z.strictObject({
    kind: z.literal('capacitor'),
    ...common,
    type: z.enum(['electrolytic', 'film', 'ceramic']),
    value: quantity('F'),
    tolerance,
    rating: quantity('V'),
    between,
  }),
  diode: z.strictObject({
    kind: z.literal('diode'),
    ...common,
    type: z.string().max(40),
    reverse: quantity('V'),
    current: quantity('A'),
    between,
  }),
  ...semiconductorSchemas,
  valve: z.strictObject({
    kind: z.literal('valve'),
    ...common,
    type: z.string().max(40),
    socket: z.strictObject({
      base: z.string().max(40),
      'gap-faces': wholeNumber,
      mounted: z.enum(['chassis', 'board']),
    }),
  }),
  'mains-transformer': z.strictObject({
    kind: z.literal('mains-transformer'),
    ...common,
    primary,
    windings: z.record(z.string().regex(/^[a-z][a-z0-9-]*$/), winding),
    tolerance,
  }),
  'output-transformer': z.strictObject({
    kind: z.literal('output-transformer'),
    ...common,
    primary: quantity('Ω'),
    secondary: quantity('Ω'),
    form: z.enum(['single-ended', 'push-pull']).default('single-ended'),
    'primary-dcr': z.union([quantity('Ω'), z.tuple([quantity('Ω'), quantity('Ω')])]),
    'screen-taps': screenTaps.optional(),
    'secondary-dcr': quantity('Ω'),
    'primary-inductance': quantity('H'),
    tolerance,
    rating: quantity('W'),
    'max-primary-current': quantity('A'),
  }),
  choke: z.strictObject({
    kind: z.literal('choke'),
    ...common,
    value: quantity('H'),
    dcr: quantity('Ω'),
    tolerance,
    'max-current': quantity('A'),
    between,
  }),
  fuse: z.strictObject({
    kind: z.literal('fuse'),
    ...common,
    value: quantity('A'),
    speed: z.enum(['F', 'T']),
    breaking: z.enum(['L', 'H', 'E']),
    rating: quantity('V'),
  }),
  switch: z.strictObject({
    kind: z.literal('switch'),
    ...common,
    role: z.enum(['mains', 'standby', 'other']),
    poles: wholeNumber,
    rating: z.strictObject({ volts: quantity('V'), current: quantity('A') }),
  }),
  'mains-inlet': z.strictObject({ kind: z.literal('mains-inlet'), ...common }),
  'tag-strip': z.strictObject({
    kind: z.literal('tag-strip'),
    ...common,
    tags: wholeNumber,
    earthed: z.array(wholeNumber).max(40).default([]),
  }),
  jack: z.strictObject({
    kind: z.literal('jack'),
    ...common,
    role: z.enum(['input', 'output', 'other']),
    terminals: z
      .array(z.string().regex(/^[a-z0-9][a-z0-9-]*$/))
      .min(1)
      .max(12),
  }),
  hardware: z.strictObject({ kind: z.literal('hardware'), ...common, count: wholeNumber.default(1) }),
} as const;

export type PartKind = keyof typeof partSchemas;

/** Every kind of part. */
export const partKinds = Object.keys(partSchemas) as readonly PartKind[];

/** A part as its file writes it, checked and in SI units. */
export type WrittenPart = { [Kind in PartKind]: z.output<(typeof partSchemas)[Kind]> }[PartKind];
