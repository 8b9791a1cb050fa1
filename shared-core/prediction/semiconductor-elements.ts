import type { CircuitElement } from '../circuit/circuit.ts';
import { bjt } from '../devices/bjt.ts';
import { diode } from '../devices/diode.ts';
import { led } from '../devices/led.ts';
import { linearRegulator } from '../devices/linear-regulator.ts';
import { mosfet } from '../devices/mosfet.ts';
import { zenerParameters } from '../devices/zener.ts';
import type { RegulatorPart, SemiconductorPart, TransistorPart } from '../kit/semiconductor-parts.ts';
import type { ElementContext } from './element-context.ts';

/** What the current limit of a regulator has above its rated current: common practice, no source. */
const limitMargin = 1.5;

/** The circuit element of a semiconductor; its spread acts on the figure that its tolerance is stated for. */
export function semiconductorElements(
  { wiring, world }: ElementContext,
  part: SemiconductorPart,
): readonly CircuitElement[] {
  const { id } = part;
  const factor = world.factor(id);
  const at = (...ends: readonly string[]): string[] => ends.map((end) => wiring.netAt(`${id}.${end}`));
  switch (part.kind) {
    case 'zener': {
      const { amps, ohms } = part;
      const parameters = zenerParameters({ volts: part.volts * factor, amps, ohms });
      return [{ id, device: diode, nets: part.between.map((place) => wiring.netAt(place)), parameters }];
    }
    case 'led': {
      const parameters = { forwardVolts: part.volts * factor, forwardAmps: part.amps };
      return [{ id, device: led, nets: part.between.map((place) => wiring.netAt(place)), parameters }];
    }
    case 'transistor':
      return part.gate
        ? [
            {
              id,
              device: mosfet,
              nets: at('d', 'g', 's'),
              parameters: gateParameters(part, part.gate, factor),
            },
          ]
        : [{ id, device: bjt, nets: at('c', 'b', 'e'), parameters: baseParameters(part, factor) }];
    case 'regulator':
      return [
        { id, device: linearRegulator, nets: at('in', 'out', 'adj'), parameters: regulated(part, factor) },
      ];
  }
}

function baseParameters(part: TransistorPart, factor: number): Record<string, number> {
  return {
    polarity: part.polarity === 'pnp' ? -1 : 1,
    forwardGain: (part.gain ?? 100) * factor,
    // Past a third of its largest current the gain of a transistor falls (common practice, no source).
    kneeAmps: part.maxAmps / 3,
  };
}

function gateParameters(
  part: TransistorPart,
  { thresholdVolts, volts, amps }: NonNullable<TransistorPart['gate']>,
  factor: number,
): Record<string, number> {
  const over = Math.max(0.1, volts - thresholdVolts);
  return {
    polarity: part.polarity === 'p-channel' ? -1 : 1,
    thresholdVolts: thresholdVolts * factor,
    transconductance: (2 * amps) / (over * over),
  };
}

function regulated(part: RegulatorPart, factor: number): Record<string, number> {
  return {
    polarity: part.polarity === 'negative' ? -1 : 1,
    referenceVolts: part.volts * factor,
    limitAmps: limitMargin * part.amps,
    dropoutVolts: part.dropoutVolts,
    leastLoadAmps: part.leastLoadAmps,
    adjustAmps: part.adjustAmps,
  };
}
