import type { Part } from '../kit.ts';
import type { WrittenPart } from '../schema/parts.ts';
import type { SemiconductorPart } from '../semiconductor-parts.ts';

type Common = Pick<Part, 'id' | 'when' | 'title' | 'marking'>;
type Written = Extract<WrittenPart, { kind: SemiconductorPart['kind'] }>;

/** A Zener diode, LED, transistor or regulator from its written form. */
export function toSemiconductor(common: Common, written: Written): SemiconductorPart {
  switch (written.kind) {
    case 'zener': {
      const { type, value, at, resistance, tolerance, rating, between } = written;
      const point = { volts: value, amps: at, ohms: resistance };
      return { kind: 'zener', ...common, type, ...point, tolerance, watts: rating, between };
    }
    case 'led': {
      const { type, forward, at, tolerance, between } = written;
      const maxAmps = written['max-current'];
      return { kind: 'led', ...common, type, volts: forward, amps: at, tolerance, maxAmps, between };
    }
    case 'transistor': {
      const { type, polarity, gain, gate, tolerance, rating } = written;
      return {
        kind: 'transistor',
        ...common,
        ...{ type, polarity, gain: gain ?? null, tolerance, watts: rating },
        gate: gate ? { thresholdVolts: gate.threshold, volts: gate.volts, amps: gate.current } : null,
        maxVolts: written['max-volts'],
        maxAmps: written['max-current'],
      };
    }
    case 'regulator': {
      const { type, polarity, value, tolerance, dropout, rating } = written;
      return {
        kind: 'regulator',
        ...common,
        ...{ type, polarity, volts: value, tolerance, dropoutVolts: dropout, watts: rating },
        amps: written['max-current'],
        leastLoadAmps: written['least-load'] ?? 0,
        adjustAmps: written['adjust-current'] ?? 0,
        maxVolts: written['max-volts'],
      };
    }
  }
}
