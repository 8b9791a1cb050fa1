import type { ChosenKit } from '../chosen-kit.ts';
import { mainsNets } from '../conduction.ts';
import type { Finding } from '../draft.ts';
import type { Condition, GateProof, Part, Reading, Step } from '../kit.ts';
import { endsOf } from '../places.ts';
import { pathOfItem } from '../source.ts';
import { highTensionStores } from '../stores.ts';
import { isPluggedIn, netAt } from './check.ts';
import type { KitCheck } from './check.ts';
import { isSwitchedOn, mainsSwitches, proofFault, separates, windingsOf } from './gate-proof.ts';
import { walkSteps } from './walk.ts';

/** Readings that claim to prove something for the cold gate but cannot. */
export const checkProofs: KitCheck = {
  needs: ['parts', 'leads', 'nets', 'conditions', 'readings'],
  run: ({ chosen, draft }) =>
    chosen.readings.flatMap((reading): Finding[] => {
      const fault = proofFault(chosen, reading, conditionOf(chosen, reading));
      if (fault === null) return [];
      const path = `${pathOfItem(draft.source, 'readings', reading)}.proves`;
      const message = `DANGER: "${reading.id}" does not prove ${reading.proves ?? ''}: ${fault}`;
      return [
        { code: 'kit/danger-empty-proof', path, message, hint: proofHints[reading.proves ?? 'primary'] },
      ];
    }),
};

const proofHints: Readonly<Record<GateProof, string>> = {
  'earth-bond': 'Measure ohms at inlet.earth against chassis, unplugged, expect: below 0.3 ohm.',
  'line-apart': 'Measure ohms at inlet.line against chassis, unplugged, expect: OL.',
  'neutral-apart': 'Measure ohms at inlet.neutral against chassis, unplugged, expect: OL.',
  insulation: 'Measure insulation at inlet.line against chassis with the switch on, expect: above 1 Mohm.',
  primary: 'Measure ohms at inlet.line against inlet.neutral, unplugged, with the switch on.',
  'windings-apart': 'Measure ohms from the primary to another winding, unplugged, expect: OL.',
  'store-clear': 'Measure ohms across the two ends of the store, unplugged.',
};

/** A live step before everything of the cold gate has been proven (safety rule 3). */
export const checkColdGate: KitCheck = {
  needs: ['parts', 'leads', 'nets', 'conditions', 'readings', 'steps'],
  run: ({ chosen, steps }) => {
    const gate = new GateState(chosen);
    return walkSteps(chosen, steps).flatMap(({ step, path, next }): Finding[] => {
      gate.passStep(step);
      if (!next || !isPluggedIn(next)) return [];
      const missing = gate.missing();
      if (missing.length === 0) return [];
      gate.silence();
      const message = `DANGER: the plug goes in before the cold gate is complete; missing: ${missing.join('; ')}`;
      const hint = 'Add the cold readings, with "proves:", and the fuse steps before this step.';
      return [{ code: 'kit/danger-cold-gate', path: `${path}.switch-on`, message, hint }];
    });
  },
};

/** What has been proven so far on the way through the steps. */
class GateState {
  readonly #chosen: ChosenKit;
  readonly #mains: ReadonlySet<string>;
  readonly #readings = new Map<string, Reading>();
  readonly #fuses = new Set<string>();
  #isSilent = false;

  constructor(chosen: ChosenKit) {
    this.#chosen = chosen;
    this.#mains = mainsNets(chosen);
  }

  passStep(step: Step): void {
    const { action } = step;
    if (action.kind !== 'gather' && this.#isMainsSideWork(step)) {
      // Proofs of the mains side are void after work on it; those of the stores stay.
      for (const [id, { proves }] of this.#readings) if (proves !== 'store-clear') this.#readings.delete(id);
      this.#isSilent = false;
    }
    if (action.kind === 'fuse') this.#fuses.add(action.part);
    if (action.kind !== 'read') return;
    for (const id of action.readings) {
      const reading = this.#chosen.readings.find((other) => other.id === id);
      if (reading?.proves) this.#readings.set(id, reading);
    }
  }

  /** One report is enough: the same things are missing at every later plug-in. */
  silence(): void {
    this.#isSilent = true;
  }

  missing(): string[] {
    if (this.#isSilent) return [];
    const chosen = this.#chosen;
    const whatIsMissing: [string, boolean][] = [['earth pin to chassis', this.#has('earth-bond')]];
    for (const pin of ['line', 'neutral'] as const) {
      const isOn = (reading: Reading) => this.#isSwitchedOn(reading);
      whatIsMissing.push([`${pin} to chassis, switch on`, this.#has(`${pin}-apart`, isOn)]);
      if (mainsSwitches(chosen).length === 0) continue;
      const isOff = (reading: Reading) => !isOn(reading);
      whatIsMissing.push([`${pin} to chassis, switch off`, this.#has(`${pin}-apart`, isOff)]);
    }
    whatIsMissing.push(
      ['500 V insulation', this.#has('insulation')],
      ['line to neutral', this.#has('primary')],
    );
    for (const winding of windingsOf(chosen)) {
      const has = this.#has('windings-apart', (reading) => separates(chosen, reading, winding));
      whatIsMissing.push([`primary apart from winding ${winding.transformer}.${winding.name}`, has]);
    }
    for (const part of chosen.parts) {
      const isOnMains = part.kind === 'fuse' && this.#mains.has(netAt(chosen, `${part.id}.a`));
      if (isOnMains) whatIsMissing.push([`marking of ${part.id} read back`, this.#fuses.has(part.id)]);
    }
    for (const { part, plus, minus } of highTensionStores(chosen)) {
      const has = this.#has('store-clear', ({ at, against }) => {
        const measured = [netAt(chosen, at), netAt(chosen, against)];
        return [plus, minus].every((end) => measured.includes(netAt(chosen, end)));
      });
      whatIsMissing.push([`store ${part.id} clear`, has]);
    }
    return whatIsMissing.filter(([, has]) => !has).map(([what]) => what);
  }

  /** Whether something was read that proves this; one that fails to is reported at the reading, not again here. */
  #has(proof: GateProof, suits: (reading: Reading) => boolean = () => true): boolean {
    return [...this.#readings.values()].some((reading) => {
      if (reading.proves !== proof) return false;
      return suits(reading) || proofFault(this.#chosen, reading, conditionOf(this.#chosen, reading)) !== null;
    });
  }

  #isSwitchedOn(reading: Reading): boolean {
    const condition = conditionOf(this.#chosen, reading);
    return condition !== undefined && isSwitchedOn(this.#chosen, condition);
  }

  #isMainsSideWork(step: Step): boolean {
    const { parts, leads } = this.#chosen;
    const touches = (places: readonly string[]) =>
      places.some((place) => this.#mains.has(netAt(this.#chosen, place)));
    const ends = (part: Part) =>
      'between' in part ? part.between : endsOf(part).map((end) => `${part.id}.${end}`);
    return (
      parts.some((part) => step.parts.includes(part.id) && touches(ends(part))) ||
      leads.some(({ id, from, to }) => step.leads.includes(id) && touches([from, to]))
    );
  }
}

function conditionOf(chosen: ChosenKit, reading: Reading): Condition | undefined {
  return chosen.conditions.find(({ id }) => id === reading.in);
}
