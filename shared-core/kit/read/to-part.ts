import type { Part } from '../kit.ts';
import type { WrittenPart } from '../schema/parts.ts';
import { toSemiconductor } from './to-semiconductor.ts';

/** A part of the kit from its written form. */
export function toPart(id: string, written: WrittenPart): Part {
  const { when, title, marking } = written;
  const common = { id, when, title, ...(marking === undefined ? {} : { marking }) };
  switch (written.kind) {
    case 'resistor':
    case 'potentiometer': {
      const shared = { ...common, ohms: written.value, tolerance: written.tolerance, watts: written.rating };
      if (written.kind === 'resistor') return { kind: 'resistor', ...shared, between: written.between };
      return { kind: 'potentiometer', ...shared, taper: written.taper };
    }
    case 'capacitor':
      return {
        kind: 'capacitor',
        ...common,
        type: written.type,
        farads: written.value,
        tolerance: written.tolerance,
        volts: written.rating,
        between: written.between,
      };
    case 'diode': {
      const { type, reverse, current, between } = written;
      return { kind: 'diode', ...common, type, reverseVolts: reverse, amps: current, between };
    }
    case 'zener':
    case 'led':
    case 'transistor':
    case 'regulator':
      return toSemiconductor(common, written);
    case 'valve': {
      const { base, mounted, 'gap-faces': gapFaces } = written.socket;
      return { kind: 'valve', ...common, type: written.type, socket: { base, gapFaces, mounted } };
    }
    case 'choke':
      return {
        kind: 'choke',
        ...common,
        henries: written.value,
        dcrOhms: written.dcr,
        tolerance: written.tolerance,
        maxAmps: written['max-current'],
        between: written.between,
      };
    case 'mains-transformer':
    case 'output-transformer':
      return toTransformer(common, written);
    default:
      return toFitting(common, written);
  }
}

type Common = Pick<Part, 'id' | 'when' | 'title' | 'marking'>;
type Written<Kind extends WrittenPart['kind']> = Extract<WrittenPart, { kind: Kind }>;

function toTransformer(common: Common, written: Written<'mains-transformer' | 'output-transformer'>): Part {
  if (written.kind === 'output-transformer') {
    const dcr = written['primary-dcr'];
    const taps = written['screen-taps'];
    return {
      kind: 'output-transformer',
      ...common,
      primaryOhms: written.primary,
      secondaryOhms: written.secondary,
      primaryDcrOhms: typeof dcr === 'number' ? dcr : dcr[0] + dcr[1],
      ...(typeof dcr === 'number' ? {} : { primaryHalvesDcrOhms: dcr }),
      ...(written.form === 'push-pull' ? { pushPull: true as const } : {}),
      ...(taps === undefined ? {} : { screenTaps: taps }),
      secondaryDcrOhms: written['secondary-dcr'],
      primaryHenries: written['primary-inductance'],
      tolerance: written.tolerance,
      watts: written.rating,
      maxPrimaryAmps: written['max-primary-current'],
    };
  }
  return {
    kind: 'mains-transformer',
    ...common,
    primary: {
      volts: written.primary.volts,
      dcrOhms: written.primary.dcr ?? null,
      ...(written.primary.taps ? { taps: written.primary.taps } : {}),
    },
    windings: Object.entries(written.windings).map(([name, { volts, at, dcr, tap }]) => ({
      name,
      volts: volts.volts,
      centreTapped: volts.centreTapped,
      amps: at,
      dcrOhms: dcr ?? null,
      ...(tap === undefined ? {} : { tapVolts: tap }),
    })),
    tolerance: written.tolerance,
  };
}

function toFitting(
  common: Common,
  written: Written<'fuse' | 'switch' | 'mains-inlet' | 'tag-strip' | 'jack' | 'hardware'>,
): Part {
  switch (written.kind) {
    case 'fuse': {
      const { value, rating, speed, breaking } = written;
      return { kind: 'fuse', ...common, amps: value, volts: rating, speed, breaking };
    }
    case 'switch': {
      const { poles, role, rating } = written;
      return { kind: 'switch', ...common, poles, volts: rating.volts, amps: rating.current, role };
    }
    case 'mains-inlet':
      return { kind: 'mains-inlet', ...common };
    case 'tag-strip':
      return { kind: 'tag-strip', ...common, tags: written.tags, earthed: written.earthed };
    case 'jack':
      return { kind: 'jack', ...common, terminals: written.terminals, role: written.role };
    case 'hardware':
      return { kind: 'hardware', ...common, count: written.count };
  }
}
