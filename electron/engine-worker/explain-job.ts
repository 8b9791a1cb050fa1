import { explain, type Explanation, type ExplainQuestion } from '../../shared-core/faults/explain.ts';
import { FaultModelling } from '../../shared-core/faults/modelling.ts';
import type { HashedKit } from './together-job.ts';

/** What explaining needs: the kit on its bench, and every reading so far. */
export type ExplainNeeds = HashedKit & { readonly question: ExplainQuestion | null };

/**
 * One turn of it: the answer, or how far the work has come, so that other jobs get in between.
 *
 * Without a question the list of faults is only built ahead: `built` when it is there.
 */
export type ExplainTurn =
  | { readonly kind: 'ready'; readonly explanation: Explanation }
  | { readonly kind: 'built' }
  | { readonly kind: 'under way'; readonly done: number; readonly of: number };

/** Benches and valve sets whose lists are kept: some tens of megabytes each. */
const mostKept = 2;

/** Fault lists of whole kits, kept because every reading asks for them again and they take many seconds. */
export class FaultKeeper {
  readonly #kept = new Map<string, FaultModelling>();

  /** One turn towards the answer; asked again until it is there, or no more where it is not wanted. */
  turn({ question, ...kit }: ExplainNeeds): ExplainTurn {
    const modelling = this.#keep(kit);
    if (!modelling.ready) {
      const { done, of } = modelling.turn();
      if (!modelling.ready) return { kind: 'under way', done, of };
    }
    if (!question) return { kind: 'built' };
    return { kind: 'ready', explanation: explain(modelling.ready, question) };
  }

  #keep({ kitHash, chosen, bench, fitted }: HashedKit): FaultModelling {
    const name = JSON.stringify([kitHash, chosen.choices, bench, fitted]);
    const own = this.#kept.get(name) ?? new FaultModelling(chosen, bench, fitted);
    this.#kept.delete(name);
    this.#kept.set(name, own);
    const oldest = this.#kept.keys().next().value;
    if (this.#kept.size > mostKept && oldest !== undefined) this.#kept.delete(oldest);
    return own;
  }
}
