import type { ChosenKit } from '../kit/chosen-kit.ts';
import type { KitSource } from '../kit/source.ts';
import { pathOfItem, positionOf } from '../kit/source.ts';
import type { KitProblem } from '../problem/problem.ts';
import { formatQuantity } from '../units/format-quantity.ts';
import type { Unit } from '../units/unit.ts';
import type { Bench } from './bench.ts';
import { ratedStop } from './default-stops.ts';
import { asInKit, nominalBench } from './nominal-bench.ts';
import { predictDrain } from './predict-drain.ts';
import { type NominalCondition, predictNominal } from './predict-condition.ts';
import type { RatingFigure } from './prediction.ts';
import { fullestCondition } from './stores.ts';
import { warmUpVolts } from './warm-up.ts';
import { nominalWorld, readWorld } from './world.ts';

/** A DC reading below this is nothing, in volts (V). */
const deadVolts = 0.01;

/** In the full amplifier the same place must carry this much to call the reading dead, in volts (V). */
const aliveVolts = 1;

/**
 * What only the computed circuit shows to be wrong with a kit, each with its line.
 *
 * Computed on nominal mains with the parts as the kit states them; high mains where ratings ask for it.
 * Costs about as much as one prediction of the whole kit.
 */
export function checkElectricity(chosen: ChosenKit, source: KitSource): readonly KitProblem[] {
  const bench = nominalBench(chosen);
  const lives = chosen.conditions.filter(({ supply }) => supply === 'mains');
  const predicted = lives.flatMap(({ id }) => predictNominal(chosen, id, bench, asInKit) ?? []);
  const fullest = fullestCondition(lives);
  const full = predicted.find(({ prediction }) => prediction.condition === fullest?.id);
  const at = (section: 'parts' | 'readings' | 'conditions', id: string) => {
    const items: readonly { readonly id: string }[] = chosen[section];
    const item = items.find((each) => each.id === id);
    return item ? positionOf(source, pathOfItem(source, section, item)) : { file: source.file };
  };
  return [
    ...unsolved(predicted).map((problem) => ({ ...problem, ...at('conditions', problem.id) })),
    ...overRated(predicted).map((problem) => ({ ...problem, ...at('parts', problem.id) })),
    ...(full ? floatingHeaters(full).map((problem) => ({ ...problem, ...at('parts', problem.id) })) : []),
    ...(full
      ? deadReadings(predicted, full).map((problem) => ({ ...problem, ...at('readings', problem.id) }))
      : []),
    ...overStopped(chosen, bench, predicted).map((problem) => ({
      ...problem,
      ...at('readings', problem.id),
    })),
    ...undrained(chosen).map((problem) => ({ ...problem, ...at('parts', problem.id) })),
  ].map(withoutId);
}

type PlacedProblem = KitProblem & { readonly id: string };

function withoutId(placed: PlacedProblem): KitProblem {
  const { code, severity, message, hint, file, line, column } = placed;
  return { code, severity, message, hint, file, line, column };
}

function unsolved(predicted: readonly NominalCondition[]): readonly PlacedProblem[] {
  return predicted
    .filter(({ prediction }) => !prediction.solve.converged)
    .map(({ prediction, state }) => ({
      ...{ id: prediction.condition, code: 'electricity/not-solved', severity: 'error' },
      message: `The condition ${prediction.condition} cannot be computed: ${state.why ?? 'no operating point'}.`,
      hint: 'Look for a part across the supply, or a value with a wrong multiplier.',
    }));
}

/** The worst figure of each part and rating, where it is past its limit. */
function overRated(predicted: readonly NominalCondition[]): readonly PlacedProblem[] {
  const worst = new Map<string, RatingFigure & { readonly condition: string }>();
  for (const { prediction } of predicted) {
    for (const rating of prediction.ratings) {
      const key = `${rating.part} ${rating.what}`;
      if (rating.percent <= 100 || rating.percent <= (worst.get(key)?.percent ?? 0)) continue;
      worst.set(key, { ...rating, condition: prediction.condition });
    }
  }
  return [...worst.values()].map(({ part, what, unit, value, limit, percent, basis, condition }) => {
    const id = part.split('.')[0] ?? part;
    const isWinding = what === 'winding current';
    const figure = (amount: number): string => formatQuantity(amount, unit as Unit, 3);
    return {
      id,
      code: isWinding ? 'electricity/heater-overloaded' : 'electricity/over-rating',
      severity: 'error',
      message:
        `${part}: ${what} ${figure(value)} in ${condition}, limit ${figure(limit)} ` +
        `(${percent.toFixed(0)} %, ${basis}).`,
      hint: isWinding ? 'Choose a transformer with a larger winding, or take load off it.' : hintFor(what),
    };
  });
}

function hintFor(what: string): string {
  return what === 'least stabiliser current'
    ? 'Use a smaller series resistor or take load off it; a dark one needs a higher supply to strike.'
    : 'Choose a part with a higher rating, or change the circuit so that less is asked of it.';
}

/** Stop limits of the kit's own that let a part go past its rating before they say stop. */
function overStopped(
  chosen: ChosenKit,
  bench: Bench,
  predicted: readonly NominalCondition[],
): readonly PlacedProblem[] {
  return predicted.flatMap(({ prediction, state }) => {
    const { condition } = state.model;
    const context = { ...state.model.context, world: readWorld(nominalWorld) };
    const own = chosen.readings.filter(({ in: id, stopAbove }) => id === condition.id && stopAbove !== null);
    if (own.length === 0 || !prediction.solve.converged) return [];
    const warm = warmUpVolts(chosen, condition, bench, asInKit);
    return own.flatMap((reading): readonly PlacedProblem[] => {
      const nominal = prediction.readings.find(({ id }) => id === reading.id)?.nominal ?? 0;
      const rated = ratedStop(context, reading, Math.max(nominal, warm(reading)));
      if (reading.stopAbove === null || rated === null || reading.stopAbove <= rated) return [];
      const figure = (volts: number): string => formatQuantity(volts, 'V', 3);
      return [
        {
          ...{ id: reading.id, code: 'electricity/stop-over-rating', severity: 'error' },
          message: `The reading ${reading.id} says stop above ${figure(reading.stopAbove)}; what stands there is rated ${figure(rated)}.`,
          hint: 'Lower stop-above to the rating, or leave it out: then the nearest rating is taken.',
        },
      ];
    });
  });
}

/** Heaters that no conductance ties to the chassis. */
function floatingHeaters({ state }: NominalCondition): readonly PlacedProblem[] {
  const { chosen } = state.model;
  const owners = new Set(
    state.network.heaters.flatMap(({ nets }) =>
      nets.some((net) => state.floating.has(net))
        ? state.network.windings
            .filter((winding) => winding.nets.some((net) => nets.includes(net)))
            .map(({ id }) => id.split('.').slice(0, 2).join('.'))
        : [],
    ),
  );
  return [...owners].map((winding) => ({
    id: chosen.parts.find(({ id }) => winding.startsWith(`${id}.`))?.id ?? winding,
    code: 'electricity/heater-floating',
    severity: 'error',
    message: `The heater winding ${winding} has no DC reference: its voltage to the cathodes is not held.`,
    hint: 'Join its centre tap, or two equal resistors of about 100 Ω, to the chassis or to a DC net.',
  }));
}

/** Readings that must be zero because what feeds them is not fitted. */
function deadReadings(
  predicted: readonly NominalCondition[],
  full: NominalCondition,
): readonly PlacedProblem[] {
  return predicted.flatMap(({ prediction, state }) =>
    prediction.readings
      .filter(({ measure, source, predicted: kind, nominal, at, against }) => {
        const isDead = measure === 'dc volts' && source === 'computed' && kind === 'value';
        if (!isDead || state === full.state || Math.abs(nominal ?? 0) > deadVolts) return false;
        const { wiring } = full.state.model.context;
        const volts = full.state.volts(wiring.netAt(at)) - full.state.volts(wiring.netAt(against));
        return Math.abs(volts) > aliveVolts;
      })
      .map(({ id, at }) => ({
        ...{ id, code: 'electricity/reading-dead', severity: 'error' },
        message: `The reading ${id} must be zero in ${prediction.condition}: nothing that is fitted there feeds ${at}.`,
        hint: 'Take it in a condition where its supply is fitted, or fit what feeds it.',
      })),
  );
}

function undrained(chosen: ChosenKit): readonly PlacedProblem[] {
  return predictDrain(chosen, nominalBench(chosen), asInKit)
    .stores.filter(({ slowSeconds }) => slowSeconds === null)
    .map(({ part, volts }) => ({
      ...{ id: part, code: 'electricity/no-drain', severity: 'error' },
      message: `${part} can hold ${formatQuantity(volts, 'V', 3)} and has no discharge path with the valves cold.`,
      hint: 'Put a bleeder resistor across it, or on a net that it reaches through resistors only.',
    }));
}
