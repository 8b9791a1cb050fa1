import type { ConditionBands } from '../bands/predict-bands.ts';
import { probeDeviations, type Spread, spreadMoments } from '../bands/spread.ts';
import type { CircuitElement } from '../circuit/circuit.ts';
import {
  type ConditionState,
  elementsIn,
  elementsMovedBy,
  plugVolts,
} from '../prediction/condition-model.ts';
import { type ConditionPicture, slopesAt } from './picture.ts';

/** Change of one parameter by one standard deviation of a quantity: relative, or absolute where it is 0. */
interface ParameterMove {
  readonly element: string;
  readonly name: string;
  readonly relative: number;
  readonly absolute: number;
}

/**
 * Gives the change of every DC reading of a picture by one standard deviation of each quantity, in volts (V).
 *
 * `onReading` follows when all changes of one reading are told.
 */
export type SpreadMoves = (
  picture: ConditionPicture,
  onChange: (reading: string, quantity: string, change: number) => void,
  onReading: (reading: string) => void,
) => void;

/** Step of the moves, as a share of a standard deviation. */
const smallStep = 0.05;

/**
 * How the quantities of a condition move its parameters, found once in the healthy amplifier.
 *
 * A fault leaves the relative move of a parameter as it is (a resistor is 5 % off whatever else is wrong); what it
 * changes is how far the readings follow, which adjoint solutions at the fault's own operating point give
 * (`SmallSignal.sensitivityOf`). The supply's parameters stand for the mains side.
 */
export function openMoves(healthy: ConditionPicture, bands: ConditionBands | undefined): SpreadMoves {
  const { state } = healthy;
  if (!state || !bands) return () => undefined;
  const roleOf = rolesOf(state);
  const mainsVolts = plugVolts(state.model.condition, state.model.bench);
  const before = byId(elementsIn(state.model, {}, mainsVolts));
  const moves = bands.spreads.map((spread) => {
    const [low, high] = probeDeviations(spread);
    // A small step: several parameters of a valve's model move together and undo each other to first order.
    const deviation = smallStep * (high === 0 ? low : high);
    const share = sigmaOf(spread) / deviation;
    const moved = elementsMovedBy(state, { [spread.quantity]: deviation }, mainsVolts);
    const parameters = moved.flatMap(({ id, parameters: after }) =>
      Object.entries(after).flatMap(([name, value]): readonly ParameterMove[] => {
        const from = before.get(id)?.parameters[name];
        if (from === undefined || from === value) return [];
        const [relative, absolute] = from === 0 ? [0, share * value] : [share * (value / from - 1), 0];
        return [{ element: roleOf(id), name, relative, absolute }];
      }),
    );
    return { quantity: spread.quantity, parameters };
  });
  return (picture, onChange, onReading) => {
    if (!picture.state) return;
    const own = rolesOf(picture.state);
    const elements = new Map(picture.state.elements.map((element) => [own(element.id), element]));
    const slopes = slopesAt(picture);
    picture.readings.forEach(({ id }, index) => {
      const slope = slopes[index];
      if (!slope) return;
      for (const { quantity, parameters } of moves) {
        let change = 0;
        for (const { element, name, relative, absolute } of parameters) {
          const found = elements.get(element);
          const value = found?.parameters[name];
          if (found && value !== undefined) change += (relative * value + absolute) * slope(found.id, name);
        }
        onChange(id, quantity, change);
      }
      onReading(id);
    });
  };
}

/** Slopes are trusted where they miss the healthy amplifier's changes by less than this share of its variance. */
const trustedMiss = 0.05;

/**
 * Keeps the moves to readings for which they give, in the healthy amplifier, what the bands say: beside a kink (a
 * choke near its critical current) a slope says nothing about a standard deviation.
 *
 * @param changeOf Change of a healthy reading by one standard deviation of a quantity, in the reading's unit.
 */
export function trustMoves(
  moves: SpreadMoves,
  healthy: ConditionPicture,
  changeOf: (reading: string, quantity: string) => number,
): SpreadMoves {
  const sums = new Map<string, { missed: number; all: number }>();
  moves(
    healthy,
    (reading, quantity, change) => {
      const known = changeOf(reading, quantity);
      const { missed, all } = sums.get(reading) ?? { missed: 0, all: 0 };
      sums.set(reading, { missed: missed + (change - known) ** 2, all: all + known ** 2 });
    },
    () => undefined,
  );
  const doubtful = new Set(
    [...sums].flatMap(([reading, { missed, all }]) => (missed > trustedMiss * all ? [reading] : [])),
  );
  return (picture, onChange, onReading) =>
    moves(
      picture,
      (reading, quantity, change) => {
        if (!doubtful.has(reading)) onChange(reading, quantity, change);
      },
      (reading) => {
        if (!doubtful.has(reading)) onReading(reading);
      },
    );
}

function sigmaOf(spread: Spread): number {
  return Math.sqrt(spreadMoments(spread).variance);
}

/** The name of an element, whatever nets a fault renamed: a supply is the first, second … of its amplifier. */
function rolesOf({ supplies }: ConditionState): (id: string) => string {
  return (id) => {
    const place = supplies.found.findIndex((supply) => supply.id === id);
    return place < 0 ? id : `#supply ${place + 1}`;
  };
}

function byId(elements: readonly CircuitElement[]): ReadonlyMap<string, CircuitElement> {
  return new Map(elements.map((element) => [element.id, element]));
}
