import type { BuildView } from '../../shared-core/contract/calls.ts';
import type { Fault } from '../../shared-core/faults/fault.ts';
import { listFaults } from '../../shared-core/faults/list-faults.ts';
import { measurableKit } from '../../shared-core/faults/measurable.ts';
import { pictureCondition } from '../../shared-core/faults/picture.ts';
import type { ChosenKit } from '../../shared-core/kit/chosen-kit.ts';
import type { Bench } from '../../shared-core/prediction/bench.ts';
import { asInKit } from '../../shared-core/prediction/nominal-bench.ts';
import { asTyped } from './screen/likely-figures.ts';
import { Walker } from './walk-kit.ts';
import type { WalkedHost } from './walk-kit.ts';

/** An amplifier with one thing wrong in it, computed by the engine: what a meter shows there. */
export class FaultyAmplifier {
  readonly fault: Fault;
  private readonly built: ReturnType<Fault['build']>;
  private readonly bench: Bench;
  private readonly shown = new Map<string, ReadonlyMap<string, number>>();

  constructor(chosen: ChosenKit, bench: Bench, part: string, kind: string) {
    const fault = listFaults({ chosen, fitted: asInKit, flaw: {} }).find(
      (each) => each.part === part && each.kind === kind,
    );
    if (!fault) throw new Error(`${chosen.name} has no fault ${part} ${kind}`);
    this.fault = fault;
    // Everything that could be measured is a reading of it.
    this.built = fault.build({ chosen: measurableKit(chosen), fitted: asInKit, flaw: {} });
    this.bench = bench;
  }

  /** What is typed for a reading; null where the engine has no figure. */
  typed(reading: string): string | null {
    const found = this.built.chosen.readings.find(({ id }) => id === reading);
    const value = found && this.valuesIn(found.in).get(reading);
    if (found === undefined || value === undefined || Number.isNaN(value)) return null;
    if (value === Infinity) return 'OL';
    if (found.measure === 'gain') return asTyped(value, '');
    // The builder's own leads are in what the meter shows.
    return found.measure === 'ohms' ? asTyped(value + this.bench.leads.ohms, 'Ω') : asTyped(value, 'V');
  }

  private valuesIn(condition: string): ReadonlyMap<string, number> {
    const known = this.shown.get(condition);
    if (known) return known;
    const readings = this.built.chosen.readings.filter((each) => each.in === condition);
    const { values } = pictureCondition(this.built, condition, readings, this.bench, { depth: 'full' });
    const made = new Map(readings.map(({ id }, index) => [id, values[index] ?? Number.NaN]));
    this.shown.set(condition, made);
    return made;
  }
}

/** A builder of such an amplifier who types what its meter shows; what has no figure there reads as in a good one. */
export class FaultyWalker extends Walker {
  private readonly amplifier: FaultyAmplifier;

  constructor(host: WalkedHost, view: BuildView, amplifier: FaultyAmplifier) {
    super(host, view);
    this.amplifier = amplifier;
  }

  override async read(reading: string): Promise<void> {
    const typed = this.amplifier.typed(reading);
    const facts = this.view.facts.readings.find(({ id }) => id === reading);
    // What reads like open asks for a probe shown to work first, which the plain builder does.
    if (typed === null || facts?.readsLikeOpen === true) return super.read(reading);
    await this.host.pass(3000);
    await this.do({ kind: 'enter-reading', by: 'hand', reading, typed, corrects: null });
  }
}
