import type { ChosenKit } from '../kit/chosen-kit.ts';
import type { Bench, Fitted } from '../prediction/bench.ts';
import {
  type ConditionState,
  openCondition,
  plugVolts,
  solveCondition,
} from '../prediction/condition-model.ts';
import { nominalWorld } from '../prediction/world.ts';
import { comparePoints, compareRatings, compareReadings, isOfSocket, isOfWinding } from './fit-figures.ts';
import { fitNotes, socketNotes } from './fit-notes.ts';
import { solvedReasons } from './fit-reasons.ts';
import type { FitReason, FitReport, FitVerdict, MovedReading, PinRow, SocketFit } from './fit-report.ts';
import type { ComparedSocket, SolvedFit } from './fit-solved.ts';
import {
  heaterIn,
  liveConditions,
  type PlaceVolts,
  tellingCondition,
  voltsWithoutValve,
} from './fit-volts.ts';
import { reasonOf, unfitHeater } from './fit-words.ts';

/** Everything that was found out, to be written down. */
export interface FoundFit {
  readonly chosen: ChosenKit;
  readonly bench: Bench;
  /** What is fitted beside the sockets asked about. */
  readonly own: Fitted;
  readonly sockets: readonly ComparedSocket[];
  /** Null where the pins of no type fit. */
  readonly solved: SolvedFit | null;
}

/** A rating that moves by less than this and belongs to no socket asked about is left out, in percent. */
const worthShowing = 1;

/** Puts the findings of pins and of the solved circuit into one report. */
export function writeFit(found: FoundFit): FitReport {
  const { chosen, sockets, solved } = found;
  const views = sockets.map((socket) => viewSocket(found, socket));
  const titles = new Map(chosen.readings.map(({ id, title }) => [id, title]));
  const changes = solved ? [...compareRatings(solved.before, solved.after), ...solved.grids] : [];
  const readings = solved ? compareReadings(solved.before, solved.after, titles) : [];
  const placed = sockets.filter(({ pins }) => pins.findings.length === 0);
  const heaterOf = (socket: ComparedSocket) => views.find((view) => view.socket === socket)?.heater ?? [];
  const reasons = inOrder([
    ...views.flatMap(({ reasons: own }) => own),
    ...(solved ? solvedReasons({ chosen, sockets: placed, heaterOf }, solved, changes) : []),
  ]);
  const isMoved = isChanged(readings, solved);
  const verdict: FitVerdict = reasons.length > 0 ? 'no' : isMoved ? 'changed' : 'fits';
  const moved = changes.filter(({ before, percent }) => Math.abs(percent - (before ?? 0)) >= worthShowing);
  return {
    ...{ format: 'kitwright-fit/1', kit: chosen.id, revision: chosen.revision, verdict },
    words: verdictWords(verdict, readings, reasons),
    sockets: views.map((view) => writeSocket(found, view, reasons, isMoved)),
    reasons,
    windings: moved.filter(isOfWinding),
    ratings: changes.filter(
      (change) =>
        !isOfWinding(change) &&
        (moved.includes(change) || sockets.some(({ socket }) => isOfSocket(change, socket.part))),
    ),
    readings,
    adjusters: solved?.set.adjusters ?? [],
    notes: fitNotes(solved, readings, sockets),
  };
}

/** What damages something comes first. */
function inOrder(reasons: readonly FitReason[]): readonly FitReason[] {
  return [...reasons].sort((one, other) => Number(one.damage === null) - Number(other.damage === null));
}

function isChanged(readings: readonly MovedReading[], solved: SolvedFit | null): boolean {
  return readings.some(({ isInside }) => !isInside) || (solved?.set.adjusters.length ?? 0) > 0;
}

interface SocketView {
  readonly socket: ComparedSocket;
  readonly heater: SocketFit['heater'];
  readonly voltsAt: (pin: number) => PlaceVolts | null;
  readonly reasons: readonly FitReason[];
}

/** Solves what one socket needs: the wiring without its valve, and with the type in hand on its own pins. */
function viewSocket({ chosen, bench, own, solved }: FoundFit, compared: ComparedSocket): SocketView {
  const { socket, type, pins } = compared;
  const { part } = socket;
  const condition = tellingCondition(chosen, liveConditions(chosen, [part.id]));
  const isOtherBase = type.base !== socket.base;
  if (!condition || isOtherBase) {
    const misfit = { socket, type, voltsAt: () => null, heater: [] };
    const reasons = pins.findings.map((finding) => reasonOf(finding, misfit));
    return { socket: compared, heater: [], voltsAt: () => null, reasons };
  }
  const voltsAt = voltsWithoutValve(chosen, condition, bench, own, part);
  const known = pins.findings.length === 0 ? solved?.stateAfter : undefined;
  const state: ConditionState =
    known ??
    solveCondition(
      openCondition(chosen, condition, bench, { ...own, valves: { ...own.valves, [part.id]: type.name } }),
      nominalWorld,
      plugVolts(condition, bench),
    );
  const heater = heaterIn(state, part, type);
  const misfit = { socket, type, voltsAt, heater };
  const atPins = pins.findings.map((each) => reasonOf(each, misfit));
  const isTold = atPins.length === 0 || atPins.some(({ code }) => code === 'heater-pins');
  return { socket: compared, heater, voltsAt, reasons: [...atPins, ...(isTold ? [] : unfitHeater(misfit))] };
}

function writeSocket(
  { chosen, solved }: FoundFit,
  { socket: compared, heater, voltsAt }: SocketView,
  reasons: readonly FitReason[],
  isMoved: boolean,
): SocketFit {
  const { socket, type, pins } = compared;
  const { id, title } = socket.part;
  const isBad = reasons.some((reason) => reason.socket === id || reason.socket === '');
  const isOther = type !== socket.kitType;
  const isPlaced = pins.findings.length === 0;
  return {
    ...{ socket: id, title, kitType: socket.kitType.name, type: type.name, heater },
    base: { socket: socket.base, type: type.base, isSame: socket.base === type.base },
    verdict: isBad ? 'no' : isMoved && isOther ? 'changed' : 'fits',
    pins: pins.rows.map((row): PinRow => ({ ...row, ...shown(row.net === null ? null : voltsAt(row.pin)) })),
    points: isPlaced ? comparePoints(socket, type, solved?.stateBefore, solved?.stateAfter) : [],
    notes: socketNotes(chosen, compared),
  };
}

function shown(found: PlaceVolts | null): Pick<PinRow, 'volts' | 'isAlternating'> {
  if (!found) return { volts: null, isAlternating: false };
  const isAlternating = found.alternating > Math.abs(found.direct);
  return { volts: isAlternating ? found.alternating : found.direct, isAlternating };
}

function verdictWords(
  verdict: FitVerdict,
  readings: readonly MovedReading[],
  reasons: readonly FitReason[],
): string {
  const lost = readings.filter(({ after }) => after === null).length;
  const outside = readings.filter(({ isInside }) => !isInside).length - lost;
  switch (verdict) {
    case 'fits':
      return 'Fits as is: every reading stays inside the kit’s own band.';
    case 'changed':
      return outside + lost === 0
        ? 'Fits once its adjusters are set anew: every reading stays inside the kit’s own band.'
        : `Fits, with changed readings: ${[
            ...(outside > 0
              ? [`${outside} of ${readings.length} ${outside === 1 ? 'leaves' : 'leave'} the kit’s own band`]
              : []),
            ...(lost > 0 ? [`${lost} of ${readings.length} can no longer be predicted`] : []),
          ].join(', ')}.`;
    case 'no':
      return `Do not fit: ${reasons.length === 1 ? 'one reason' : `${reasons.length} reasons`}.`;
  }
}
