import type { ChosenKit } from '../kit/chosen-kit.ts';
import type { Reading } from '../kit/kit.ts';
import type { ConditionState } from '../prediction/condition-model.ts';
import { formatQuantity } from '../units/format-quantity.ts';
import type { Unit } from '../units/unit.ts';
import { isOfSocket, isOfWinding, newlyOver } from './fit-figures.ts';
import type { FitReason, HeaterFit, RatingChange } from './fit-report.ts';
import type { ComparedSocket, SolvedFit } from './fit-solved.ts';
import { heaterDamage, heaterWords } from './fit-words.ts';

/** Below this share of its voltage a heater is only cold; above it, too cold for its cathode to last. */
const emittingShare = 0.5;

/** Reasons that only the solved circuit shows: heaters, windings, ratings, stop limits, adjusters. */
export function solvedReasons(
  { chosen, sockets, heaterOf }: SolvedSockets,
  solved: SolvedFit,
  changes: readonly RatingChange[],
): readonly FitReason[] {
  const owner = (part: string): string => {
    const own = sockets.find(({ socket }) => isOfSocket({ part }, socket.part));
    return own?.socket.part.id ?? (sockets.length === 1 ? (sockets[0]?.socket.part.id ?? '') : '');
  };
  const unsolved = solved.states.filter(({ converged }) => !converged);
  const over = newlyOver(changes);
  const plain = (code: FitReason['code'], socket: string, text: string, damage: string | null): FitReason => {
    return { code, socket, pins: [], text, damage };
  };
  return [
    ...unsolved.map(({ model, why }) =>
      plain(
        'not-solved',
        owner(''),
        `The condition ${model.condition.id} cannot be computed with it: ${why ?? 'no operating point'}.`,
        null,
      ),
    ),
    ...over.map((change) => {
      const socket = owner(change.part);
      if (change.what === 'heater') {
        const own = sockets.find(({ socket: { part } }) => part.id === change.part);
        return heaterReason(change, socket, own, own ? heaterOf(own) : []);
      }
      const code = isOfWinding(change) ? 'winding' : 'rating';
      return plain(code, socket, ratingText(change), ratingDamage(change));
    }),
    ...stops(chosen, solved).map((text) => plain('stop', owner(''), text, null)),
    ...solved.set.outOfReach.map(({ reading, target, reached }) =>
      plain(
        'adjuster',
        owner(''),
        `${reading.title}: the adjuster cannot bring it to ${figure(target, 'V')}; its end gives ${figure(reached, 'V')}.`,
        reached > target ? 'More current than the kit sets flows through the valve.' : null,
      ),
    ),
  ];
}

/** What the reasons are about. */
export interface SolvedSockets {
  readonly chosen: ChosenKit;
  readonly sockets: readonly ComparedSocket[];
  readonly heaterOf: (socket: ComparedSocket) => readonly HeaterFit[];
}

function heaterReason(
  change: RatingChange,
  socket: string,
  own: ComparedSocket | undefined,
  heater: readonly HeaterFit[],
): FitReason {
  const { part, value, limit } = change;
  const text =
    own && heater.length > 0
      ? `The heater of ${own.type.name} in ${part}: ${heaterWords(heater)}.`
      : `The heater of ${part} gets ${figure(value, 'V')}, and the limit is ${figure(limit, 'V')}.`;
  const share = Math.min(...heater.map((wire) => (wire.volts ?? 0) / wire.ratedVolts));
  const cold =
    share > emittingShare && share < 1 ? 'A cathode that is too cold is used up before its time.' : null;
  return {
    ...{ code: 'heater-volts', socket, pins: [], text },
    damage: own ? (heaterDamage(own.type, heater) ?? cold) : cold,
  };
}

function ratingText({ part, what, value, limit, unit, percent, basis, condition }: RatingChange): string {
  const least = what === 'source resistance' || what === 'least stabiliser current';
  return (
    `${part}: ${what} ${figure(value, unit)} in ${condition}, ${least ? 'least allowed' : 'limit'} ` +
    `${figure(limit, unit)} (${percent.toFixed(percent < 110 ? 1 : 0)} %, ${basis}).`
  );
}

function ratingDamage({ part, what }: RatingChange): string {
  switch (what) {
    case 'anode dissipation':
    case 'dissipation of all anodes':
    case 'dissipation of anode and screen':
      return `The anode of ${part} glows red and the valve is lost.`;
    case 'screen dissipation':
      return `The screen of ${part} glows and sags.`;
    case 'heater to cathode voltage':
      return `The insulation between heater and cathode of ${part} breaks down.`;
    case 'peak inverse voltage':
      return `${part} arcs over from cathode to anode and shorts the high tension.`;
    case 'peak current':
    case 'mean current':
    case 'source resistance':
    case 'reservoir':
      return `The cathode of ${part} is torn by the charging current; it may arc over and take the fuse with it.`;
    case 'winding current':
    case 'volt-amperes':
      return `${part} overheats: its insulation fails in time.`;
    case 'grid resistance':
      return `${part} can run away: its grid current takes the bias off across so much resistance.`;
    case 'dissipation':
      return `${part} overheats and burns.`;
    case 'voltage':
      return `${part} breaks down; an electrolytic can burst.`;
    case 'steady current':
      return `${part} blows.`;
    default:
      return `${part} is stressed past what its maker allows.`;
  }
}

/** Stop limits of the kit itself that a new nominal figure is past, where the kit's own valves are not. */
function stops(chosen: ChosenKit, { states, statesBefore }: SolvedFit): readonly string[] {
  return states.flatMap((state, index) =>
    chosen.readings
      .filter((reading) => reading.in === state.model.condition.id && reading.measure === 'dc volts')
      .flatMap((reading) => {
        const before = statesBefore[index];
        const isOld = before?.converged === true && passed(reading, between(before, reading)) !== null;
        const value = between(state, reading);
        const words = state.converged && !isOld ? passed(reading, value) : null;
        return words === null ? [] : [`${reading.title}: ${figure(value, 'V')} in ${reading.in}, ${words}.`];
      }),
  );
}

/** DC volts of a reading without the meter (V). */
function between(state: ConditionState, { at, against }: Reading): number {
  const { wiring } = state.model.context;
  return state.volts(wiring.netAt(at)) - state.volts(wiring.netAt(against));
}

function passed({ stopAbove, stopBelow, expect }: Reading, value: number): string | null {
  if (stopAbove !== null && value > stopAbove) return `above the stop limit of ${figure(stopAbove, 'V')}`;
  if (stopBelow !== null && value < stopBelow) return `below the stop limit of ${figure(stopBelow, 'V')}`;
  if (expect?.below !== undefined && value > expect.below) {
    return `where the kit states less than ${figure(expect.below, 'V')}`;
  }
  if (expect?.above !== undefined && value < expect.above) {
    return `where the kit states more than ${figure(expect.above, 'V')}`;
  }
  return null;
}

function figure(value: number, unit: Unit): string {
  return formatQuantity(value, unit, 3);
}
