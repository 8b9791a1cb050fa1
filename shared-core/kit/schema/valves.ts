import { z } from 'zod';
import {
  LONGEST_TITLE,
  prose,
  quantity,
  raise,
  signedQuantity,
  title,
  tolerance,
  wholeNumber,
  yesOrNo,
} from './fields.ts';

/** A kit's own valve type: what is printed on the glass. */
export const VALVE_ID = /^[A-Z0-9][A-Z0-9/-]{0,23}$/;

/** Slope in siemens: `1.6 mA/V` or `1.6 mS`. */
const slope = z
  .union([z.string(), z.number()])
  .transform((raw, context) => {
    const text = /^(.*A)\s*\/\s*V$/u.exec(String(raw))?.[1] ?? String(raw).replace(/S$/u, 'A');
    const amps = quantity('A').safeParse(text);
    if (amps.success) return amps.data;
    const message = `Expected a slope, received "${raw}"`;
    return raise(context, 'kit/quantity', message, 'Write 1.6 mA/V or 1.6 mS.');
  })
  .meta({ description: 'A slope, for instance 1.6 mA/V' });

const point = z
  .strictObject({
    va: quantity('V'),
    vg2: quantity('V').optional(),
    vg: signedQuantity('V').default(0),
    ia: quantity('A'),
    ig2: quantity('A').optional(),
    gm: slope.optional(),
    mu: quantity('').optional(),
    ra: quantity('Ω').optional(),
  })
  .meta({ description: 'A published point: voltages to the cathode, currents of one section' });

/** Heater between two pins; with `tap`, volts and current are those from end to end. */
const heater = z
  .strictObject({
    volts: quantity('V'),
    current: quantity('A'),
    pins: z.tuple([wholeNumber, wholeNumber]),
    tap: wholeNumber.optional(),
    'warm-up': quantity('s').optional(),
    filament: yesOrNo.optional(),
  })
  .meta({
    description:
      'Volts and current between the two pins (in series, where there is a tap); filament: true where it is the cathode',
  });

const ratings = z
  .strictObject({
    basis: z.enum(['design-centre', 'design-maximum', 'absolute']).default('design-centre'),
    anode: quantity('V').optional(),
    dissipation: quantity('W').optional(),
    'cathode-current': quantity('A').optional(),
    screen: quantity('V').optional(),
    'screen-dissipation': quantity('W').optional(),
    'heater-cathode': quantity('V').optional(),
    'grid-leak-fixed-bias': quantity('Ω').optional(),
    'grid-leak-cathode-bias': quantity('Ω').optional(),
    'inverse-peak': quantity('V').optional(),
    'peak-current': quantity('A').optional(),
    'output-current': quantity('A').optional(),
  })
  .meta({ description: 'Highest values of the sheet; needed are those that a build is judged by' });

const rectifier = z
  .strictObject({ winding: quantity('V'), 'least-resistance': quantity('Ω'), 'max-reservoir': quantity('F') })
  .meta({
    description: 'Capacitor input: volts rms of each half, least ohms for each anode, largest reservoir',
  });

/** A valve type that the kit brings: what the catalogue holds for the others. */
export const valveSchema = z
  .strictObject({
    title,
    kind: z.enum(['triode', 'pentode', 'rectifier']),
    base: z.string().max(40),
    source: prose(LONGEST_TITLE).meta({ description: 'Where the figures are from' }),
    sections: z
      .array(
        z.strictObject({
          anode: wholeNumber,
          grid: wholeNumber.optional(),
          screen: wholeNumber.optional(),
          cathode: wholeNumber.optional(),
        }),
      )
      .min(1)
      .max(4)
      .meta({ description: 'Pins of each section, counted from below: { anode: 6, grid: 7, cathode: 8 }' }),
    heater,
    'other-pins': z
      .record(z.string(), z.enum(['internal', 'free', 'absent', 'suppressor grid', 'shield']))
      .default({}),
    ratings,
    spread: tolerance.optional(),
    rectifier: rectifier.optional(),
    parameters: z.record(z.string(), signedQuantity('')).optional().meta({
      description: 'Parameters of the law (mu, ex, kg1, kp, kvb, vct; kg2; perveance), with model-error',
    }),
    'model-error': quantity('%').optional(),
    points: z
      .array(point)
      .max(60)
      .optional()
      .meta({ description: 'Published points to which the law is fitted, instead of parameters' }),
  })
  .meta({
    description: 'A valve type of this kit, used before one of the catalogue with the same name',
  });

export type WrittenValve = z.output<typeof valveSchema>;
