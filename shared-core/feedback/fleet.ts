import type { BuildRecord } from '../journal/build-record.ts';
import { FleetGroup } from './fleet-group.ts';
import type { JointsOf } from './joints.ts';

/** Revisions kept apart, simulated ones by themselves: a bound on memory. */
const mostGroups = 64;

/** What a fleet is gathered for. */
export interface FleetOptions {
  /** Id of the kit; null takes that of the first sound record. */
  readonly kit: string | null;
  /** Which steps solder where, of the kit at hand; empty without it. */
  readonly joints: JointsOf;
}

/**
 * Many records of one kit, taken in one by one and forgotten: only counts and sums are kept.
 *
 * Each revision is a group by itself, and so is the same revision with another content; simulated records never
 * mix with real ones.
 */
export class Fleet {
  readonly #groups = new Map<string, FleetGroup>();
  readonly #joints: JointsOf;
  #kit: string | null;

  constructor({ kit, joints }: FleetOptions) {
    this.#kit = kit;
    this.#joints = joints;
  }

  /** Id of the kit; null before the first record. */
  get kit(): string | null {
    return this.#kit;
  }

  /** Groups by revision, real ones first. */
  groups(): readonly FleetGroup[] {
    return [...this.#groups.values()]
      .filter(({ builds }) => builds > 0)
      .toSorted(
        (one, other) =>
          Number(one.isSimulated) - Number(other.isSimulated) ||
          one.kit.revision.localeCompare(other.kit.revision, 'en') ||
          (one.kit.kitHash < other.kit.kitHash ? -1 : 1),
      );
  }

  /** Why a record does not belong here; null when it does. */
  refuses(record: BuildRecord, isSimulated: boolean): string | null {
    if (this.#kit !== null && record.kit.id !== this.#kit) {
      return `It is of the kit ${record.kit.id}; this is about ${this.#kit}`;
    }
    const isNew = !this.#groups.has(keyOf(record, isSimulated));
    return isNew && this.#groups.size >= mostGroups
      ? `More than ${mostGroups} revisions are in this fleet already`
      : null;
  }

  /** Counts a record that is not refused. */
  add(record: BuildRecord, isSimulated: boolean): void {
    this.#kit ??= record.kit.id;
    const key = keyOf(record, isSimulated);
    const group = this.#groups.get(key) ?? new FleetGroup(record, isSimulated, this.#joints);
    this.#groups.set(key, group);
    group.count(record, 1);
  }

  /** Takes out again a record that was counted before. */
  remove(record: BuildRecord, isSimulated: boolean): void {
    this.#groups.get(keyOf(record, isSimulated))?.count(record, -1);
  }
}

function keyOf({ kit }: BuildRecord, isSimulated: boolean): string {
  return JSON.stringify([isSimulated, kit.revision, kit.kitHash]);
}
