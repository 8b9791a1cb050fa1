import { z } from 'zod';
import {
  LONGEST_PROSE,
  channels,
  place,
  prose,
  quantity,
  quantityIn,
  raise,
  signedQuantity,
  title,
  when,
  yesOrNo,
} from './fields.ts';

const ids = z.array(z.string().max(60)).max(200);
const longText = prose(LONGEST_PROSE);

/** `8 ohm`, `8 ohm resistor` or `8 ohm loudspeaker`. */
const load = z.union([z.string(), z.number()]).transform((raw, context) => {
  const [, size = '', kind = 'resistor'] = /^(.*?)(?:\s+(resistor|loudspeaker))?$/u.exec(String(raw)) ?? [];
  const ohms = quantity('Ω').safeParse(size);
  if (ohms.success) return { ohms: ohms.data, isLoudspeaker: kind === 'loudspeaker' };
  const hint = 'Write 8 ohm resistor or 8 ohm loudspeaker.';
  return raise(context, 'kit/quantity', `Expected a load, received "${raw}"`, hint);
});

const share = z.union([z.string(), z.number()]).transform((raw, context) => {
  const value = signedQuantity('%').safeParse(raw);
  if (value.success && value.data >= 0 && value.data <= 1) return value.data;
  return raise(context, 'kit/quantity', `Expected 0 % to 100 %, received "${raw}"`, 'For instance 50 %.');
});

export const headSchema = z.strictObject({
  id: z.string().regex(/^[a-z][a-z0-9-]{0,47}$/),
  name: title,
  revision: z.string().min(1).max(20),
  maker: title,
  'safe-below': quantity('V').optional(),
  about: longText.default(''),
});

export const optionSchema = z.strictObject({
  title: title.optional(),
  choose: z.array(z.string().max(80)).min(1).max(12),
});

export const chassisSchema = z.strictObject({ width: quantity('m'), depth: quantity('m') });

export const leadSchema = z.strictObject({
  when,
  channels,
  from: place,
  to: place,
  colour: z.string().max(40),
  length: quantity('m').optional(),
  style: z.enum(['wire', 'bare', 'twisted', 'screened', 'flying']).default('wire'),
});

/** Sets of valves that are sold together because their currents agree. */
export const matchedSchema = z
  .array(z.array(z.string().max(60)).min(2).max(12))
  .max(40)
  .meta({ description: 'For instance [[V3, V4], [V5, V6]]' });

export const positionSchema = z.tuple([signedQuantity(''), signedQuantity(''), signedQuantity('°')]);

export const conditionSchema = z.strictObject({
  when,
  title,
  supply: z.enum(['unplugged', 'mains', 'lamp', 'variac', 'bench', 'insulation-tester']),
  lamp: quantity('W').optional(),
  at: share.optional(),
  fitted: z.union([z.literal('all'), ids]),
  switches: z.record(z.string(), z.enum(['on', 'off'])).default({}),
  controls: z.record(z.string(), share).default({}),
  input: z.enum(['open', 'shorted', 'signal']).default('open'),
  loads: z.record(z.string(), load).default({}),
  'ready-after': quantity('s').optional(),
  cautions: z.array(longText).max(20).default([]),
});

/** What a reading can measure. */
export const measures = ['dc volts', 'ac volts', 'ohms', 'insulation', 'gain'] as const;

export const readingSchema = z.strictObject({
  when,
  channels,
  title,
  at: place,
  against: place.default('gnd'),
  measure: z.enum(measures),
  in: z.string().max(60),
  expect: z.string().max(80).optional(),
  'stop-above': quantityIn(['V', 'Ω']).optional(),
  'stop-below': quantityIn(['V', 'Ω']).optional(),
  'repeat-after': z.array(quantity('s')).max(12).default([]),
  proves: z
    .enum([
      'earth-bond',
      'line-apart',
      'neutral-apart',
      'insulation',
      'primary',
      'windings-apart',
      'store-clear',
    ])
    .optional(),
});

const caution = z
  .strictObject({
    danger: longText.optional(),
    warning: longText.optional(),
    caution: longText.optional(),
    notice: longText.optional(),
  })
  .transform((raw, context) => {
    const [first, ...rest] = (['danger', 'warning', 'caution', 'notice'] as const).filter(
      (level) => level in raw,
    );
    if (first && rest.length === 0) return { level: first, text: raw[first] ?? '' };
    const hint = 'Write one of danger, warning, caution, notice before the text.';
    return raise(context, 'kit/wrong-shape', 'A caution has one signal word and a text', hint);
  });

/** Keys that make a step more than assembling or looking. */
export const actionKeys = [
  'gather',
  'read',
  'fuse',
  'switch-on',
  'switch-off',
  'drain',
  'adjust',
  'compare',
  'signal',
  'soak',
  'listen',
  'sign',
] as const;

const flag = yesOrNo.optional();

export const stepSchema = z.strictObject({
  id: z.string().regex(/^[a-z][a-z0-9-]{0,47}$/),
  when,
  title,
  do: longText,
  more: longText.optional(),
  reach: z.enum(['outside', 'probe', 'inside']).optional(),
  parts: ids.default([]),
  leads: ids.default([]),
  picture: z.string().max(200).optional(),
  cautions: z.array(caution).max(20).default([]),
  inspect: z.array(longText).max(40).default([]),
  'good-place-to-stop': flag,
  'feedback-sense': flag,
  gather: ids.optional(),
  read: ids.optional(),
  fuse: z.string().max(60).optional(),
  'switch-on': z.string().max(60).optional(),
  'switch-off': flag,
  drain: flag,
  adjust: z
    .strictObject({
      control: z.string(),
      reading: z.string(),
      target: quantityIn(['V', 'Ω']),
      within: quantity('%'),
    })
    .optional(),
  compare: z.strictObject({ readings: z.tuple([z.string(), z.string()]), within: quantity('%') }).optional(),
  signal: ids.optional(),
  soak: z.strictObject({ for: quantity('s'), readings: ids.default([]) }).optional(),
  listen: flag,
  sign: flag,
});

/** A chapter without its steps, which are read one by one. */
export const chapterHeadSchema = z.strictObject({ id: z.string().regex(/^[a-z][a-z0-9-]{0,47}$/), title });

export type WrittenStep = z.output<typeof stepSchema>;
export type WrittenReading = z.output<typeof readingSchema>;
export type WrittenCondition = z.output<typeof conditionSchema>;
export type WrittenLead = z.output<typeof leadSchema>;
