import type { CircuitElement } from '../circuit/circuit.ts';
import { openCircuitVolts } from '../circuit/supply/transformer.ts';
import { capacitor } from '../devices/capacitor.ts';
import { diode } from '../devices/diode.ts';
import { inductor } from '../devices/inductor.ts';
import { outputTransformer } from '../devices/output-transformer.ts';
import { pushPullOutputTransformer } from '../devices/push-pull-output-transformer.ts';
import { potentiometer } from '../devices/potentiometer.ts';
import { resistor } from '../devices/resistor.ts';
import { tappedOutputTransformer } from '../devices/tapped-output-transformer.ts';
import type { MainsTransformerPart, OutputTransformerPart, Part, Place } from '../kit/kit.ts';
import { primaryEndsOf, windingEndsOf } from '../kit/transformer-ends.ts';
import { type ElementContext, partValue } from './element-context.ts';
import { semiconductorElements } from './semiconductor-elements.ts';
import { valveElements } from './valve-elements.ts';

/** Least resistance put into the matrix, in ohms (Ω): a bare wire or a lamp of copper. */
const leastOhms = 1e-3;

/** The circuit elements of one part; none for parts that only join nets or carry no current at rest. */
export function partElements(context: ElementContext, part: Part): readonly CircuitElement[] {
  const { wiring, world } = context;
  const netsAt = (places: readonly Place[]): string[] => places.map((place) => wiring.netAt(place));
  switch (part.kind) {
    case 'resistor': {
      const ohms = Math.max(leastOhms, partValue(context, part.id, part.ohms));
      return [{ id: part.id, device: resistor, nets: netsAt(part.between), parameters: { ohms } }];
    }
    case 'potentiometer':
      return [
        {
          id: part.id,
          device: potentiometer,
          nets: netsAt(['ccw', 'wiper', 'cw'].map((end) => `${part.id}.${end}`)),
          parameters: {
            ohms: partValue(context, part.id, part.ohms),
            position: context.condition.controls[part.id] ?? 0,
            taper: part.taper === 'logarithmic' ? 1 : 0,
          },
        },
      ];
    case 'capacitor': {
      const farads = partValue(context, part.id, part.farads);
      return [{ id: part.id, device: capacitor, nets: netsAt(part.between), parameters: { farads } }];
    }
    case 'choke': {
      const henries = partValue(context, part.id, part.henries);
      const ohms = part.dcrOhms * world.factor(`${part.id}.copper`);
      return [{ id: part.id, device: inductor, nets: netsAt(part.between), parameters: { henries, ohms } }];
    }
    case 'diode':
      return [{ id: part.id, device: diode, nets: netsAt(part.between), parameters: {} }];
    case 'zener':
    case 'led':
    case 'transistor':
    case 'regulator':
      return semiconductorElements(context, part);
    case 'mains-transformer':
      return transformerCopper(context, part);
    case 'output-transformer':
      return outputElements(context, part);
    case 'valve':
      return valveElements(context, part);
    default:
      return [];
  }
}

function outputElements(context: ElementContext, part: OutputTransformerPart): readonly CircuitElement[] {
  const { wiring, world } = context;
  if (part.pushPull) return pushPullElements(context, part);
  const tap = part.screenTaps;
  const primary = tap === undefined ? ['primary.a', 'primary.b'] : ['primary.a', 'primary.tap', 'primary.b'];
  const copper = world.factor(`${part.id}.copper`);
  return [
    {
      id: part.id,
      device: tap === undefined ? outputTransformer : tappedOutputTransformer,
      nets: [...primary, 'secondary.a', 'secondary.b'].map((end) => wiring.netAt(`${part.id}.${end}`)),
      parameters: {
        // The stated impedances are taken as the square of the turns ratio (common practice, no source).
        ratio: Math.sqrt(part.primaryOhms / part.secondaryOhms),
        primaryHenries: part.primaryHenries * world.factor(`${part.id}.henries`),
        primaryOhms: Math.max(leastOhms, part.primaryDcrOhms * copper),
        secondaryOhms: Math.max(leastOhms, part.secondaryDcrOhms * copper),
        ...(tap === undefined ? {} : { tap }),
      },
    },
  ];
}

function pushPullElements(context: ElementContext, part: OutputTransformerPart): readonly CircuitElement[] {
  const { wiring, world } = context;
  const ends = ['primary.a', 'primary.tap-a', 'primary.ct', 'primary.tap-b', 'primary.b'];
  const copper = world.factor(`${part.id}.copper`);
  const [first, second] = part.primaryHalvesDcrOhms ?? [part.primaryDcrOhms / 2, part.primaryDcrOhms / 2];
  return [
    {
      id: part.id,
      device: pushPullOutputTransformer,
      nets: [...ends, 'secondary.a', 'secondary.b'].map((end) => wiring.netAt(`${part.id}.${end}`)),
      parameters: {
        ratio: Math.sqrt(part.primaryOhms / part.secondaryOhms),
        primaryHenries: part.primaryHenries * world.factor(`${part.id}.henries`),
        firstOhms: Math.max(leastOhms, first * copper),
        secondOhms: Math.max(leastOhms, second * copper),
        secondaryOhms: Math.max(leastOhms, part.secondaryDcrOhms * copper),
        ...(part.screenTaps === undefined ? {} : { tap: part.screenTaps }),
      },
    },
  ];
}

/** The windings of a mains transformer at rest: copper between their ends. */
function transformerCopper(context: ElementContext, part: MainsTransformerPart): readonly CircuitElement[] {
  const { wiring, world } = context;
  const open = openCircuitVolts(part);
  const copper = world.factor(`${part.id}.copper`);
  const between = (id: string, from: string, to: string, ohms: number): CircuitElement => ({
    id: `${part.id}#${id}`,
    device: resistor,
    nets: [wiring.netAt(`${part.id}.${from}`), wiring.netAt(`${part.id}.${to}`)],
    parameters: { ohms: Math.max(leastOhms, ohms * copper) },
  });
  const primary = primaryEndsOf(part);
  return [
    ...primary.slice(1).map(({ end, volts }, index) => {
      const before = primary[index]!;
      // Copper in proportion to the turns.
      const ohms = (open.primaryOhms * (volts - before.volts)) / part.primary.volts;
      return between(primary.length > 2 ? `primary.${index + 1}` : 'primary', before.end, end, ohms);
    }),
    ...open.windings.flatMap(({ name, pieces }, order) => {
      const ends = windingEndsOf(part.windings[order]!);
      return pieces.map(({ ohms }, index) =>
        between(pieces.length > 1 ? `${name}.${index + 1}` : name, ends[index]!, ends[index + 1]!, ohms),
      );
    }),
  ];
}
