import { predictBands } from '../bands/predict-bands.ts';
import { SampleBook } from '../bands/sample-book.ts';
import type { ChosenKit } from '../kit/chosen-kit.ts';
import type { Bench, Fitted } from '../prediction/bench.ts';
import type { ConditionState } from '../prediction/condition-model.ts';
import { nominalWorld } from '../prediction/world.ts';
import { openCondition, plugVolts, solveCondition } from '../prediction/condition-model.ts';
import { predictNominal } from '../prediction/predict-condition.ts';
import type { ConditionPrediction } from '../prediction/prediction.ts';
import type { Result } from '../problem/problem.ts';
import { succeed } from '../problem/problem.ts';
import { setAdjusters } from './fit-adjust.ts';
import { type AskedSocket, askedSockets, fittedBeside } from './fit-asked.ts';
import { comparePins } from './fit-pins.ts';
import { compareGrids } from './fit-grid.ts';
import type { FitReport } from './fit-report.ts';
import type { ComparedSocket, SolvedFit } from './fit-solved.ts';
import { liveConditions, tellingCondition } from './fit-volts.ts';
import { writeFit } from './write-fit.ts';

/** A question about other valves in a kit's sockets. */
export interface FitQuestion {
  readonly chosen: ChosenKit;
  readonly bench: Bench;
  /** What is fitted; the sockets asked about count as filled with the kit's own types. */
  readonly fitted: Fitted;
  /** Socket to the type in hand. */
  readonly valves: Readonly<Record<string, string>>;
  /** `nominal` leaves the bands out: each band is then its nominal value. */
  readonly depth?: 'bands' | 'nominal';
  /** The kit's own predictions, where somebody has them already. */
  readonly before?: readonly ConditionPrediction[];
  readonly book?: SampleBook;
}

/**
 * Says what becomes of a kit with other valves in some of its sockets.
 *
 * First the pins, without solving anything. Types whose pins do not fit the wiring are then computed as what they
 * are, on their own pins, for what they would meet; the others for ratings, windings and every reading.
 */
export function fitValves(question: FitQuestion): Result<FitReport> {
  const { chosen, bench, valves } = question;
  const asked = askedSockets(chosen, valves);
  if (!asked.ok) return asked;
  const sockets = asked.value.map(comparedSocket);
  const own = fittedBeside(question.fitted, valves);
  const placed = sockets.filter(({ pins }) => pins.findings.length === 0);
  const solved = placed.length > 0 ? solveFit(question, own, placed) : null;
  return succeed(writeFit({ chosen, bench, own, sockets, solved }));
}

function comparedSocket(asked: AskedSocket): ComparedSocket {
  return { ...asked, pins: comparePins(asked.socket, asked.type) };
}

/** The sockets whose wiring answers to the pins of the type asked about: those that need readings computed. */
export function placedSockets(
  chosen: ChosenKit,
  valves: Readonly<Record<string, string>>,
): readonly string[] {
  const asked = askedSockets(chosen, valves);
  if (!asked.ok) return [];
  const placed = asked.value.map(comparedSocket).filter(({ pins }) => pins.findings.length === 0);
  return placed.map(({ socket }) => socket.part.id);
}

function solveFit(question: FitQuestion, own: Fitted, placed: readonly ComparedSocket[]): SolvedFit {
  const { chosen, bench, depth = 'bands' } = question;
  const book = question.book ?? new SampleBook(1);
  const ids = placed.map(({ socket }) => socket.part.id);
  const conditions = liveConditions(chosen, ids);
  const types = Object.fromEntries(placed.map(({ socket, type }) => [socket.part.id, type.name]));
  const fitted: Fitted = { ...own, valves: { ...own.valves, ...types } };
  const isSame = placed.every(({ socket, type }) => type === socket.kitType);
  const set = isSame ? { chosen, adjusters: [], outOfReach: [] } : setAdjusters(chosen, bench, fitted);
  const predict = (kit: ChosenKit, id: string, inSockets: Fitted): readonly ConditionPrediction[] => {
    const prediction =
      depth === 'nominal'
        ? predictNominal(kit, id, bench, inSockets)?.prediction
        : predictBands(kit, id, bench, inSockets, book);
    return prediction ? [prediction] : [];
  };
  const solve = (kit: ChosenKit, inSockets: Fitted): readonly ConditionState[] =>
    kit.conditions
      .filter(({ id }) => conditions.some((each) => each.id === id))
      .map((condition) => {
        const model = openCondition(kit, condition, bench, inSockets);
        return solveCondition(model, nominalWorld, plugVolts(condition, bench));
      });
  const before = conditions.flatMap(({ id }) => {
    const known = question.before?.find(({ condition }) => condition === id);
    return known ? [known] : predict(chosen, id, own);
  });
  const telling = tellingCondition(chosen, conditions)?.id;
  const find = (states: readonly ConditionState[]): ConditionState | undefined =>
    states.find(({ model }) => model.condition.id === telling);
  const statesBefore = solve(chosen, own);
  const stateBefore = find(statesBefore);
  if (isSame) {
    const nothing = { statesBefore, states: [], set, grids: [] };
    return { before, after: before, stateBefore, stateAfter: stateBefore, ...nothing };
  }
  const states = solve(set.chosen, fitted);
  const stateAfter = find(states);
  const grids = stateBefore && stateAfter ? compareGrids(stateBefore, stateAfter, placed) : [];
  const after = conditions.flatMap(({ id }) => predict(set.chosen, id, fitted));
  return { before, after, stateBefore, stateAfter, statesBefore, states, set, grids };
}
