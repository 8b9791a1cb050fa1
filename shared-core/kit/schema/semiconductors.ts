import { z } from 'zod';
import { place, prose, quantity, signedQuantity, title, tolerance, when, LONGEST_TITLE } from './fields.ts';

const common = { title, when, marking: prose(LONGEST_TITLE).optional() };
const type = z.string().max(40);
const between = z.tuple([place, place]);

/** Schemas of the semiconductors beside the plain diode. */
export const semiconductorSchemas = {
  zener: z.strictObject({
    kind: z.literal('zener'),
    ...common,
    type,
    value: quantity('V'),
    at: quantity('A'),
    resistance: quantity('Ω'),
    tolerance,
    rating: quantity('W'),
    between,
  }),
  led: z.strictObject({
    kind: z.literal('led'),
    ...common,
    type,
    forward: quantity('V'),
    at: quantity('A'),
    tolerance,
    'max-current': quantity('A'),
    between,
  }),
  transistor: z.strictObject({
    kind: z.literal('transistor'),
    ...common,
    type,
    polarity: z.enum(['npn', 'pnp', 'n-channel', 'p-channel']),
    gain: quantity('').optional(),
    gate: z
      .strictObject({ threshold: quantity('V'), volts: quantity('V'), current: quantity('A') })
      .optional(),
    tolerance,
    'max-volts': quantity('V'),
    'max-current': quantity('A'),
    rating: quantity('W'),
  }),
  regulator: z.strictObject({
    kind: z.literal('regulator'),
    ...common,
    type,
    polarity: z.enum(['positive', 'negative']).default('positive'),
    value: quantity('V'),
    tolerance,
    dropout: quantity('V'),
    'max-current': quantity('A'),
    'least-load': signedQuantity('A').optional(),
    'adjust-current': signedQuantity('A').optional(),
    'max-volts': quantity('V'),
    rating: quantity('W'),
  }),
} as const;
