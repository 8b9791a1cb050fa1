import { assumedRegulationSpread, openCircuitVolts } from '../circuit/supply/transformer.ts';
import type { Part, Tolerance, ValvePart } from '../kit/kit.ts';
import type { ConditionState } from '../prediction/condition-model.ts';
import { mainsLimits } from '../prediction/mains-limits.ts';
import { matchedSet, sectionName, valveInSocket } from '../prediction/valve-elements.ts';
import { cathodePins, joinedWith } from '../valves/cathode-pins.ts';
import { matchedShares, modelError, spreadParameters, unverifiedError } from '../valves/spread.ts';
import type { ValveSection, ValveType } from '../valves/valve-type.ts';
import type { Spread } from './spread.ts';

const practice = 'common practice, no source';

/** Flattened crests: the peak is 1.414 × rms, −4 % to +0 %. */
const crestLow = -0.04;

/** Copper of a winding: production, and up to 50 K of warming at 0.39 % per kelvin. */
const copperLimits: Tolerance = { low: -0.1, high: 0.2 };

/** Heater current at the rated voltage. */
const heaterLimit = 0.1;

/** Inductance of an output transformer's primary. */
const henriesLimit = 0.3;

/** The spreads of a condition, and where its valve models are not verified. */
export interface SpreadList {
  readonly spreads: readonly Spread[];
  /** Nets of valve electrodes at a point outside the verified regions, with the type's name. */
  readonly unverified: Readonly<Record<string, string>>;
}

/**
 * Every quantity that the solved condition can depend on, with how far it scatters.
 *
 * A value the builder measured scatters by the meter's accuracy only.
 */
export function listSpreads(state: ConditionState, asked: ReadonlySet<string>): SpreadList {
  const { chosen, bench } = state.model;
  const unverified: Record<string, string> = {};
  const spreads: Spread[] = [];
  const still = findStill(state);
  const add = (spread: Spread): void => {
    if (still.has(spread.quantity)) return;
    const isSpread = spread.low < 0 || spread.high > 0;
    if (isSpread && asked.has(spread.quantity) && !spreads.some((own) => own.quantity === spread.quantity)) {
      spreads.push(spread);
    }
  };
  const { source } = bench.mains;
  const limit = mainsLimits[source];
  add(bell('mains', 'mains voltage', { low: -limit, high: limit }, `${source} mains: ±${limit * 100} %`));
  add({
    ...{ quantity: 'mains.crest', what: 'flat top of the mains', low: crestLow, high: 0, shape: 'flat' },
    source: practice,
  });
  for (const part of chosen.parts) {
    if (part.kind === 'valve') for (const spread of valveSpreads(state, part, unverified)) add(spread);
    else for (const spread of partSpreads(state, part)) add(spread);
  }
  return { spreads, unverified };
}

/** Quantities that no DC reading feels: capacitors that are no reservoir, inductances. */
function findStill(state: ConditionState): ReadonlySet<string> {
  const { chosen, condition } = state.model;
  const isHeard = chosen.readings.some(
    ({ in: where, measure }) => where === condition.id && measure === 'gain',
  );
  if (isHeard) return new Set();
  const reservoirs = new Set(state.supplies.found.flatMap(({ supply }) => supply.reservoirs));
  return new Set(
    chosen.parts.flatMap(({ kind, id }) => {
      if (kind === 'capacitor') return reservoirs.has(id) ? [] : [id];
      if (kind === 'choke') return [id];
      return kind === 'output-transformer' ? [`${id}.henries`] : [];
    }),
  );
}

function bell(quantity: string, what: string, { low, high }: Tolerance, source: string): Spread {
  return { quantity, what, low, high, shape: 'bell', source };
}

function partSpreads(state: ConditionState, part: Part): readonly Spread[] {
  const { fitted, bench } = state.model;
  if (part.kind === 'mains-transformer') {
    const isEstimated = openCircuitVolts(part).estimated.length > 0;
    const extra = isEstimated ? assumedRegulationSpread : 0;
    const volts = { low: part.tolerance.low - extra, high: part.tolerance.high + extra };
    return [
      bell(`${part.id}.volts`, `${part.id} winding voltages`, volts, 'kit file'),
      bell(`${part.id}.copper`, `${part.id} copper`, copperLimits, practice),
    ];
  }
  if (part.kind === 'output-transformer') {
    const henries = { low: -henriesLimit, high: henriesLimit };
    return [
      bell(`${part.id}.copper`, `${part.id} copper`, copperLimits, practice),
      bell(`${part.id}.henries`, `${part.id} inductance`, henries, practice),
    ];
  }
  if (!('tolerance' in part)) return [];
  const copper =
    part.kind === 'choke' ? [bell(`${part.id}.copper`, `${part.id} copper`, copperLimits, practice)] : [];
  if (fitted.measured[part.id] === undefined) {
    return [bell(part.id, part.id, part.tolerance, 'kit file'), ...copper];
  }
  const accuracy = bench.meter.accuracy.ohms;
  const measured = { quantity: part.id, what: `${part.id} as measured`, low: -accuracy, high: accuracy };
  return [{ ...measured, shape: 'flat', source: 'accuracy of the meter' }, ...copper];
}

/** A spread whose logarithm is normal, from one sigma. */
function logNormal(quantity: string, what: string, sigma: number, source: string): Spread {
  return {
    quantity,
    what,
    low: Math.exp(-sigma) - 1,
    high: Math.exp(sigma) - 1,
    shape: 'log-normal',
    source,
  };
}

function valveSpreads(
  state: ConditionState,
  part: ValvePart,
  unverified: Record<string, string>,
): readonly Spread[] {
  const type = valveInSocket(state.model.context, part);
  if (!type) return [];
  const heater = { low: -heaterLimit, high: heaterLimit };
  const spreads =
    type.heater.elements.length === 0
      ? []
      : [bell(`${part.id}.heater`, `${part.id} heater current`, heater, practice)];
  for (const section of type.sections) {
    spreads.push(...productionSpreads(state, part, type, section));
    spreads.push(...modelSpreads(state, part, type, section, unverified));
  }
  return spreads;
}

/** What valves of the type scatter by; of a matched set most of it is common to all, and little is each one's own. */
function productionSpreads(
  state: ConditionState,
  part: ValvePart,
  type: ValveType,
  section: ValveSection,
): readonly Spread[] {
  const name = sectionName(part, section);
  const set = matchedSet(state.model.context, part);
  const shares = set === null ? { own: 1, common: 0 } : matchedShares(type);
  return spreadParameters(type).flatMap(({ parameter, relativeSigma, source }) => {
    const word = words[parameter] ?? parameter;
    const own = logNormal(`${name}.${parameter}`, `${name} ${word}`, relativeSigma * shares.own, source);
    if (set === null) return [own];
    const setName = sectionName({ ...part, id: set }, section);
    const what = `${word} of the matched set ${set.replaceAll('+', ', ')}`;
    const common = relativeSigma * shares.common;
    return [own, logNormal(`${setName}.${parameter}`, what, common, source)];
  });
}

const words: Readonly<Record<string, string>> = {
  emission: 'current',
  mu: 'amplification factor',
  kg2: 'screen current',
  regulatedVolts: 'voltage',
};

/** What the model may be off by; TYPE stands for the valve type. */
const modelWords: Readonly<Record<string, string>> = {
  slope: 'model of TYPE, slope',
  amplification: 'model of TYPE, amplification factor',
};

function modelSpreads(
  state: ConditionState,
  part: ValvePart,
  type: ValveType,
  section: ValveSection,
  unverified: Record<string, string>,
): readonly Spread[] {
  const { wiring } = state.model.context;
  const netOf = (pin: string): string => wiring.netAt(`${part.id}.${section.pins[pin] ?? 0}`);
  const isRectifier = section.device === 'rectifier-valve';
  const cathode = state.volts(netOf('cathode'));
  const volts = (pin: string): number => state.volts(netOf(pin)) - cathode;
  const point = isRectifier ? rectifierPoint(state, part) : null;
  const element = sectionName(part, section);
  const isSolved = state.solver.compiled.elementIndex.has(element);
  if (!isRectifier && !isSolved) return [];
  const amps = isRectifier
    ? (point?.amps ?? 0)
    : (state.solver.evaluateElement(element).stamp.residuals[0] ?? 0);
  const list = modelError(
    type,
    isRectifier
      ? { anodeVolts: point?.volts ?? 0 }
      : {
          anodeVolts: volts('anode'),
          ...(section.pins['grid'] === undefined ? {} : { gridVolts: volts('grid') }),
          ...(section.pins['screen'] === undefined ? {} : { screenVolts: volts('screen') }),
        },
    amps,
  );
  if (!list && !isRectifier) {
    const pins = [section.pins['anode'] ?? 0, section.pins['cathode'] ?? 0, ...cathodePins(type, section)];
    for (const pin of pins.flatMap((each) => joinedWith(type, each))) {
      unverified[wiring.netAt(`${part.id}.${pin}`)] = type.name;
    }
  }
  return (list ?? unverifiedError(type)).map(({ parameter, relativeSigma, source: from }) => {
    const what = modelWords[parameter] ?? `model of ${type.name}`;
    return logNormal(`${type.name}.${parameter}`, what.replace('TYPE', type.name), relativeSigma, from);
  });
}

/** A rectifier at its peak current: the drop that its law gives there. */
function rectifierPoint(
  state: ConditionState,
  part: ValvePart,
): { readonly volts: number; readonly amps: number } | null {
  const index = state.supplies.found.findIndex(({ supply }) =>
    supply.replaced.some((id) => id.startsWith(`${part.id}.`)),
  );
  const waveform = state.waveforms[index];
  const law = state.supplies.found[index]?.supply.phases[0].law;
  if (!waveform || law?.kind !== 'valve') return null;
  const amps = Math.max(...waveform.phases.map(({ peakAmps }) => peakAmps));
  return { amps, volts: (amps / law.perveance) ** (2 / 3) };
}
