import { asMeterShows } from '../../shared-core/bands/as-meter-shows.ts';
import { computeBands, type ConditionBands } from '../../shared-core/bands/predict-bands.ts';
import { joinReadings, type JointReadings } from '../../shared-core/bands/predict-build.ts';
import type { SampleBook } from '../../shared-core/bands/sample-book.ts';
import { seeTogether, type TakenReading, type Together } from '../../shared-core/bands/see-together.ts';
import type { ChosenKit } from '../../shared-core/kit/chosen-kit.ts';
import type { Bench, Fitted } from '../../shared-core/prediction/bench.ts';
import type { ConditionPrediction } from '../../shared-core/prediction/prediction.ts';

/** A kit on a bench, by its hash too: what bands are kept under. */
export interface HashedKit {
  readonly chosen: ChosenKit;
  readonly bench: Bench;
  readonly fitted: Fitted;
  readonly kitHash: string;
}

/** What seeing all readings together needs. */
export type TogetherNeeds = HashedKit & { readonly taken: readonly TakenReading[] };

/** One turn of it: the answer, or how far the work has come, so that other jobs get in between. */
export type TogetherTurn =
  | { readonly kind: 'ready'; readonly together: Together }
  | { readonly kind: 'under way'; readonly done: number; readonly of: number };

interface KeptKit {
  readonly bands: Map<string, ConditionBands | null>;
  joint: JointReadings | null;
}

/** Benches and valve sets whose bands are kept: the build's own and the one before. */
const mostKept = 2;

/** Bands of whole kits, kept because every reading asks for them again and they take seconds. */
export class BandKeeper {
  readonly #kept = new Map<string, KeptKit>();
  readonly #book: SampleBook;

  constructor(book: SampleBook) {
    this.#book = book;
  }

  /** The predictions of every condition. */
  predictionsOf(kit: HashedKit): readonly ConditionPrediction[] {
    return kit.chosen.conditions.flatMap(({ id }) => this.#bandsOf(kit, id)?.prediction ?? []);
  }

  /** One turn towards seeing all readings together: one condition, or the joining, or the answer. */
  turn({ taken, ...kit }: TogetherNeeds): TogetherTurn {
    const { chosen, bench } = kit;
    const own = this.#keep(kit);
    const of = chosen.conditions.length + 1;
    const missing = chosen.conditions.find(({ id }) => !own.bands.has(id));
    if (missing) {
      this.#bandsOf(kit, missing.id);
      return { kind: 'under way', done: own.bands.size, of };
    }
    const bands = chosen.conditions.flatMap(({ id }) => own.bands.get(id) ?? []);
    if (!own.joint) {
      own.joint = joinReadings(bands, bench, this.#book);
      return { kind: 'under way', done: of, of };
    }
    const labels = Object.fromEntries(chosen.readings.map(({ id, title }) => [id, title]));
    const predictions = bands.map(({ prediction }) => asMeterShows(prediction, bench.leads.ohms));
    return { kind: 'ready', together: seeTogether(predictions, own.joint, taken, labels) };
  }

  #bandsOf(kit: HashedKit, condition: string): ConditionBands | null {
    const { bands } = this.#keep(kit);
    const known = bands.get(condition);
    if (known !== undefined) return known;
    const fresh = computeBands(kit.chosen, condition, kit.bench, kit.fitted, this.#book) ?? null;
    bands.set(condition, fresh);
    return fresh;
  }

  #keep({ kitHash, chosen: { choices }, bench, fitted }: HashedKit): KeptKit {
    const name = JSON.stringify([kitHash, choices, bench, fitted]);
    const own = this.#kept.get(name) ?? { bands: new Map(), joint: null };
    this.#kept.delete(name);
    this.#kept.set(name, own);
    const oldest = this.#kept.keys().next().value;
    if (this.#kept.size > mostKept && oldest !== undefined) this.#kept.delete(oldest);
    return own;
  }
}
