import type { CircuitElement } from '../circuit/circuit.ts';
import { readOperatingPoint } from '../circuit/operating-point.ts';
import { Solver } from '../circuit/solver.ts';
import type { SupplyWaveform } from '../circuit/supply/waveform.ts';
import { resistor } from '../devices/resistor.ts';
import { settleSharing } from '../devices/settle-sharing.ts';
import { waveformOfSupply } from '../devices/supply-element.ts';
import { voltageSource } from '../devices/voltage-source.ts';
import type { ChosenKit } from '../kit/chosen-kit.ts';
import type { Condition, Reading } from '../kit/kit.ts';
import type { Bench, Fitted } from './bench.ts';
import { freezeRipple } from './freeze-ripple.ts';
import { keepPivots } from './keep-pivots.ts';
import { type KitSupplies, kitSupplies, supplyElements } from './kit-supplies.ts';
import { mainsSide } from './mains-side.ts';
import { type MainsNetwork, type MainsSolution, type PulseLoad, solveMainsNetwork } from './mains-network.ts';
import { partElements } from './part-elements.ts';
import type { ElementContext, ValveHeat } from './element-context.ts';
import { valveInSocket } from './valve-elements.ts';
import { wireCondition } from './wiring.ts';
import { readWorld, type World } from './world.ts';

/** A meter that is not there, in ohms (Ω): the largest that the resistor allows. */
export const noMeterOhms = 1e13;

/** One condition of one chosen kit, compiled once and solved in many worlds. */
export interface ConditionModel {
  readonly chosen: ChosenKit;
  readonly condition: Condition;
  readonly bench: Bench;
  readonly fitted: Fitted;
  readonly heat: ValveHeat;
  readonly context: Omit<ElementContext, 'world'>;
  /** DC readings: each has a meter of its own in the circuit. */
  readonly meters: readonly Reading[];
  readonly depth: SolveDepth;
  /** Made by the first solution. */
  solver: Solver | null;
  /** Made by the first solution of a band. */
  frozen: readonly FrozenWaveform[] | null;
}

/**
 * How far a solution goes. `full`: to the last digit. `band`: the first solution is full; for the worlds
 * after it the ripple stays as it was and the pulses follow the supply's mean current. `upper`: supplies
 * without ripple correction, which is always a little high (0.1 to 2 %).
 */
export type SolveDepth = 'full' | 'band' | 'upper';

/** A supply's waveform at the first solution of a band, and the mean current it belongs to, in amperes (A). */
interface FrozenWaveform {
  readonly waveform: SupplyWaveform | null;
  readonly amps: number;
}

/** One world solved. */
export interface ConditionState {
  readonly model: ConditionModel;
  readonly converged: boolean;
  readonly why: string | null;
  readonly iterations: number;
  /** Worst violation of the current law, in amperes (A). */
  readonly residualAmps: number;
  /** Nets that nothing ties to the chassis but the solver's own tiny conductance. */
  readonly floating: ReadonlySet<string>;
  readonly solver: Solver;
  readonly elements: readonly CircuitElement[];
  readonly network: MainsNetwork;
  readonly supplies: KitSupplies;
  /** Of each supply, in order: null where nothing flows or no ripple was found. */
  readonly waveforms: readonly (SupplyWaveform | null)[];
  readonly pulses: readonly PulseLoad[];
  /** Mains side with the pulses of the rectifiers. */
  readonly mains: MainsSolution;
  /** Rms at the plug, in volts (V). */
  readonly mainsVolts: number;
  /** DC volts of a net against the reference, without a meter, in volts (V). */
  readonly volts: (net: string) => number;
  /** Quantities that this solution asked its world for. */
  readonly asked: ReadonlySet<string>;
}

/** Opens a condition for solving. */
export function openCondition(
  chosen: ChosenKit,
  condition: Condition,
  bench: Bench,
  fitted: Fitted,
  heat: ValveHeat = 'hot',
  depth: SolveDepth = 'full',
): ConditionModel {
  const wiring = wireCondition(chosen, condition);
  const meters = chosen.readings.filter(
    (reading) =>
      reading.in === condition.id &&
      reading.measure === 'dc volts' &&
      wiring.netAt(reading.at) !== wiring.netAt(reading.against),
  );
  const context = { chosen, condition, wiring, fitted, heat, pivots: new Map() };
  return { chosen, condition, bench, fitted, heat, context, meters, depth, solver: null, frozen: null };
}

/** Volts at the plug for a supply that predictions are made for; 0 for the others. */
export function plugVolts(condition: Condition, bench: Bench): number {
  return condition.supply === 'mains' || condition.supply === 'lamp' || condition.supply === 'variac'
    ? bench.mains.volts
    : 0;
}

/**
 * Solves a condition in one world.
 *
 * @param mainsVolts Rms at the plug before the world's own deviation, in volts (V).
 */
export function solveCondition(model: ConditionModel, world: World, mainsVolts: number): ConditionState {
  const { context, plug, network, unloaded, supplies, elements, reader } = describeWorld(
    model,
    world,
    mainsVolts,
  );
  const isFirst = model.solver === null;
  const options = model.depth === 'upper' ? { maxRounds: 0 } : {};
  const solver = (model.solver ??= new Solver({ elements, reference: context.wiring.reference }, options));
  if (!isFirst) setElements(solver, elements);
  const outcome = solver.solve(!isFirst);
  if (!outcome.converged && !isFirst) solver.solve(false);
  if (outcome.converged && model.depth !== 'upper' && !model.frozen) {
    shareTransformers(solver, supplies, unloaded);
  }
  const waveforms = outcome.converged ? waveformsOf(model, solver, supplies) : [];
  const pulses = pulsesOf(supplies, waveforms);
  if (isFirst && outcome.converged) keepPivots(context.pivots, solver);
  if (isFirst && model.depth === 'band' && outcome.converged) {
    model.frozen = waveforms.map((waveform, index) => ({
      waveform,
      amps: supplyAmps(solver, supplies.found[index]?.id ?? ''),
    }));
    model.solver = freezeRipple(solver);
  }
  const mains = pulses.length > 0 ? solveMainsNetwork(network, pulses) : unloaded;
  const plain = Float64Array.from(solver.unknowns);
  return {
    ...{ model, solver, elements, network, supplies, waveforms, pulses, mains, mainsVolts: plug },
    converged: outcome.converged && mains.converged,
    why: outcome.failure ? `no operating point: ${outcome.failure.kind} at ${outcome.failure.at}` : null,
    iterations: outcome.iterations,
    // Only the first solution is asked for these: the thousands of a band share its wiring.
    ...(isFirst && outcome.converged
      ? checkSolution(solver)
      : { residualAmps: 0, floating: new Set<string>() }),
    volts: (net) => {
      const index = solver.compiled.netIndex.get(net);
      return index === undefined ? 0 : (plain[index] ?? 0);
    },
    asked: reader.asked,
  };
}

/** Lets the supplies of each transformer feel each other's pulses. */
function shareTransformers(solver: Solver, { found }: KitSupplies, { cores }: MainsSolution): void {
  for (const [transformer, { ohms }] of Object.entries(cores)) {
    settleSharing(
      solver,
      found.filter((supply) => supply.transformer === transformer),
      ohms,
    );
  }
}

/** Mean current of a supply at the solution, in amperes (A). */
function supplyAmps(solver: Solver, id: string): number {
  return -(solver.evaluateElement(id).stamp.residuals[0] ?? 0);
}

function waveformsOf(
  model: ConditionModel,
  solver: Solver,
  supplies: KitSupplies,
): readonly (SupplyWaveform | null)[] {
  if (model.depth === 'upper') return [];
  return supplies.found.map(({ id }, index) => {
    const frozen = model.frozen?.[index];
    if (!frozen) return waveformOfSupply(solver.evaluateElement(id));
    const share = frozen.amps > 0 ? supplyAmps(solver, id) / frozen.amps : 0;
    return frozen.waveform && scaleCurrents(frozen.waveform, share);
  });
}

/** The same waveform with every current in proportion. */
function scaleCurrents(waveform: SupplyWaveform, share: number): SupplyWaveform {
  const [first, second] = waveform.phases.map(({ meanAmps, peakAmps, rmsAmps, sineAmps }) => ({
    ...{ meanAmps: meanAmps * share, peakAmps: peakAmps * share },
    ...{ rmsAmps: rmsAmps * share, sineAmps: sineAmps * share },
  }));
  return first && second ? { ...waveform, phases: [first, second] } : waveform;
}

/** Everything about a world that can be said before its circuit is solved. */
function describeWorld(model: ConditionModel, world: World, mainsVolts: number) {
  const reader = readWorld(world);
  const context: ElementContext = { ...model.context, world: reader };
  const plug = mainsVolts * reader.factor('mains');
  const network = mainsSide(context, plug);
  const unloaded = solveMainsNetwork(network, []);
  const supplies = kitSupplies(context, network, unloaded, model.bench.mains.hertz);
  const elements = buildElements(model, context, supplies);
  return { reader, context, plug, network, unloaded, supplies, elements };
}

/** The circuit of a condition in one world, unsolved. */
export function elementsIn(
  model: ConditionModel,
  world: World,
  mainsVolts: number,
): readonly CircuitElement[] {
  return describeWorld(model, world, mainsVolts).elements;
}

/**
 * The elements that a deviation can change: of one part where the quantity is that part's own, of all valves of
 * a type where it is the type's, and all where a supply stands for one of them. A resistor's share in the
 * heaters' circuit is left out.
 */
export function elementsMovedBy(
  state: ConditionState,
  world: World,
  mainsVolts: number,
): readonly CircuitElement[] {
  const { model, supplies } = state;
  const quantity = Object.keys(world)[0] ?? '';
  const owners = model.chosen.parts.filter(
    (part) =>
      part.id === quantity ||
      quantity.startsWith(`${part.id}.`) ||
      (part.kind === 'valve' && quantity.startsWith(`${valveInSocket(model.context, part)?.name}.`)),
  );
  const reaches = owners.some(
    ({ id, kind }) =>
      kind === 'mains-transformer' ||
      (kind === 'valve' && quantity === `${id}.heater`) ||
      [...supplies.absorbed].some((absorbed) => absorbed === id || absorbed.startsWith(`${id}.`)),
  );
  if (owners.length === 0 || reaches) return elementsIn(model, world, mainsVolts);
  const context = { ...model.context, world: readWorld(world) };
  return owners.flatMap((owner) => partElements(context, owner));
}

/** The mains side in another world, with the rectifiers' pulses as they were. */
export function mainsMovedBy(
  { model, pulses }: ConditionState,
  world: World,
  mainsVolts: number,
): MainsSolution {
  const reader = readWorld(world);
  const network = mainsSide({ ...model.context, world: reader }, mainsVolts * reader.factor('mains'));
  return solveMainsNetwork(network, pulses);
}

function checkSolution(solver: Solver): Pick<ConditionState, 'residualAmps' | 'floating'> {
  const { residualAmps, floatingNets } = readOperatingPoint(solver);
  return { residualAmps, floating: new Set(floatingNets) };
}

function buildElements(
  model: ConditionModel,
  context: ElementContext,
  supplies: KitSupplies,
): readonly CircuitElement[] {
  const { chosen, condition, wiring } = context;
  const elements: CircuitElement[] = [];
  for (const part of chosen.parts) {
    if (!supplies.absorbed.has(part.id)) elements.push(...partElements(context, part));
    if (part.kind !== 'jack') continue;
    const [hot, cold] = part.terminals.map((end) => wiring.netAt(`${part.id}.${end}`));
    if (hot === undefined || cold === undefined || hot === cold) continue;
    const ohms = condition.loads[part.id];
    if (ohms !== undefined) {
      elements.push({ id: `${part.id}#load`, device: resistor, nets: [hot, cold], parameters: { ohms } });
    }
    if (part.role === 'input' && condition.input === 'signal') {
      const isFirst = !elements.some(({ id }) => id === signalId);
      const id = isFirst ? signalId : `${signalId} ${part.id}`;
      elements.push({ id, device: voltageSource, nets: [hot, cold], parameters: {} });
    }
  }
  elements.push(...supplyElements(supplies));
  for (const { id, at, against } of model.meters) {
    const nets = [wiring.netAt(at), wiring.netAt(against)];
    elements.push({ id: meterId(id), device: resistor, nets, parameters: { ohms: noMeterOhms } });
  }
  return elements.filter(({ nets }) => new Set(nets).size > 1);
}

/** The generator at the first input; those at further inputs have the jack's name behind it. */
export const signalId = '#signal';

/** The meter of a reading. */
export function meterId(reading: string): string {
  return `#meter ${reading}`;
}

function setElements(solver: Solver, elements: readonly CircuitElement[]): void {
  for (const { id, device, parameters } of elements) {
    const compiled = solver.element(id);
    device.parameters.forEach(({ name, initial }, index) => {
      const value = parameters[name];
      // What an element does not state is the slow loop's own, and stays.
      if (value === undefined) return;
      if ((compiled.given[index] ?? initial) !== value) solver.setParameterAt(compiled, index, value);
    });
  }
}

/** What the rectifiers draw from each winding; both ways of a bridge, or two supplies, add up in one. */
function pulsesOf(
  supplies: KitSupplies,
  waveforms: readonly (SupplyWaveform | null)[],
): readonly PulseLoad[] {
  const sums = new Map<string, PulseLoad>();
  supplies.found.forEach(({ windings }, index) => {
    windings.forEach((own, phase) => {
      const figures = waveforms[index]?.phases[phase];
      if (!figures) return;
      for (const winding of own) {
        const sum = sums.get(winding);
        sums.set(winding, {
          winding,
          sineAmps: (sum?.sineAmps ?? 0) + figures.sineAmps,
          // Of pulses that follow each other the squares add.
          rmsAmps: Math.hypot(sum?.rmsAmps ?? 0, figures.rmsAmps),
        });
      }
    });
  });
  return [...sums.values()];
}
