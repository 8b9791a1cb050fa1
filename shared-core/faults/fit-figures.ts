import { elementFigures } from '../circuit/operating-point.ts';
import type { ValvePart } from '../kit/kit.ts';
import type { ConditionState } from '../prediction/condition-model.ts';
import type { ConditionPrediction, RatingFigure, ReadingPrediction } from '../prediction/prediction.ts';
import { sectionName } from '../prediction/valve-elements.ts';
import type { Unit } from '../units/unit.ts';
import type { ValveType } from '../valves/valve-type.ts';
import type { FitBand, MovedReading, RatingChange, SectionPoint } from './fit-report.ts';
import type { WiredSocket } from './fit-socket.ts';

/** Figures of a section that say where it works. */
const pointFigures: readonly string[] = [
  'anode voltage',
  'screen voltage',
  'grid voltage',
  'anode current',
  'screen current',
  'anode dissipation',
  'screen dissipation',
];

/** The operating point of every section, beside that of the kit's section on the same wiring. */
export function comparePoints(
  socket: WiredSocket,
  type: ValveType,
  before: ConditionState | undefined,
  after: ConditionState | undefined,
): readonly SectionPoint[] {
  return type.sections.flatMap((section): readonly SectionPoint[] => {
    const net = socket.netOf(section.pins['anode'] ?? 0);
    const home = socket.kitType.sections.find(({ pins }) => socket.netOf(pins['anode'] ?? 0) === net);
    const old = home ? figuresOf(before, sectionName(socket.part, home)) : [];
    return figuresOf(after, sectionName(socket.part, section)).map(({ what, unit, value }) => ({
      ...{ section: sectionName(socket.part, home ?? section), what, unit: unit as Unit, after: value },
      before: old.find((each) => each.what === what)?.value ?? null,
    }));
  });
}

function figuresOf(
  state: ConditionState | undefined,
  element: string,
): readonly { readonly what: string; readonly unit: string; readonly value: number }[] {
  if (!state?.converged || !state.solver.compiled.elementIndex.has(element)) return [];
  return elementFigures(state.solver, element).filter(({ what }) => pointFigures.includes(what));
}

/** Every rating in its worst condition, before and after. */
export function compareRatings(
  before: readonly ConditionPrediction[],
  after: readonly ConditionPrediction[],
): readonly RatingChange[] {
  const old = worstOf(before);
  return [...worstOf(after)].map(([key, rating]) => {
    const { part, what, limit, basis, condition, value, percent, unit } = rating;
    return {
      ...{ part, what, limit, basis, condition, value, percent },
      unit: unit as Unit,
      before: old.get(key)?.percent ?? null,
      isOver: percent > 100,
    };
  });
}

type Placed = RatingFigure & { readonly condition: string };

function worstOf(predictions: readonly ConditionPrediction[]): ReadonlyMap<string, Placed> {
  const worst = new Map<string, Placed>();
  for (const { condition, ratings } of predictions) {
    for (const rating of ratings) {
      const key = `${rating.part}\n${rating.what}\n${rating.basis}`;
      if (rating.percent >= (worst.get(key)?.percent ?? -1)) worst.set(key, { ...rating, condition });
    }
  }
  return worst;
}

/** Ratings that the other valves push past their limit; one that was past it before counts where it got worse. */
export function newlyOver(changes: readonly RatingChange[]): readonly RatingChange[] {
  return changes.filter(({ isOver, before, percent }) => isOver && (before === null || percent > before + 1));
}

/** Windings, whole transformers and fuses. */
export function isOfWinding({ what }: Pick<RatingChange, 'what'>): boolean {
  return what === 'winding current' || what === 'volt-amperes' || what === 'steady current';
}

/** Whether a rating belongs to a socket: `V1`, `V1.2`. */
export function isOfSocket({ part }: Pick<RatingChange, 'part'>, { id }: Pick<ValvePart, 'id'>): boolean {
  return part === id || part.startsWith(`${id}.`);
}

/** Every reading with a computed figure before, and what became of it; those that moved most first. */
export function compareReadings(
  before: readonly ConditionPrediction[],
  after: readonly ConditionPrediction[],
  titles: ReadonlyMap<string, string>,
): readonly MovedReading[] {
  const moved = before.flatMap(({ condition, readings }) => {
    const now = after.find((each) => each.condition === condition)?.readings ?? [];
    return readings.flatMap((reading): readonly MovedReading[] => {
      const band = bandOf(reading);
      const next = now.find(({ id }) => id === reading.id);
      return band
        ? [compareReading(reading, band, next, condition, titles.get(reading.id) ?? reading.id)]
        : [];
    });
  });
  const size = ({ after: band, movedShare }: MovedReading): number =>
    band === null ? Infinity : Math.abs(movedShare ?? 0);
  return moved.sort((one, other) => size(other) - size(one) || Number(one.isInside) - Number(other.isInside));
}

function compareReading(
  reading: ReadingPrediction,
  before: FitBand,
  next: ReadingPrediction | undefined,
  condition: string,
  title: string,
): MovedReading {
  const { id, at, against, unit } = reading;
  const after = next ? bandOf(next) : null;
  const movedBy = after ? after.nominal - before.nominal : null;
  const { low, high } = before;
  return {
    ...{ id, title, condition, at, against, unit, before, after, movedBy },
    movedShare: movedBy === null || before.nominal === 0 ? null : movedBy / Math.abs(before.nominal),
    isInside:
      after !== null && (low === null || after.nominal >= low) && (high === null || after.nominal <= high),
    why: after === null ? (next?.why ?? 'not computed') : null,
  };
}

/** A computed figure with its band; null for what is stated, OL or not predicted. */
function bandOf({ predicted, source, low, nominal, high }: ReadingPrediction): FitBand | null {
  return predicted === 'value' && source === 'computed' && nominal !== null ? { low, nominal, high } : null;
}
