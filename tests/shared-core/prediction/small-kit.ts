import type { ChosenKit } from '../../../shared-core/kit/chosen-kit.ts';
import { computeNets } from '../../../shared-core/kit/nets.ts';
import type { Condition, Lead, Part, Place, Reading } from '../../../shared-core/kit/kit.ts';

type Loose<Value> = Value extends unknown
  ? Omit<Value, 'when' | 'title'> & { readonly when?: object; readonly title?: string }
  : never;

/** A part as a test writes it: `when` and `title` may be left out. */
export type LoosePart = Loose<Part>;

export interface SmallKit {
  readonly parts: readonly LoosePart[];
  /** Pairs of places that a lead joins. */
  readonly leads?: readonly (readonly [Place, Place])[];
  readonly nets?: Readonly<Record<string, Place>>;
  readonly conditions?: readonly (Partial<Condition> & { readonly id: string })[];
  readonly readings?: readonly (Partial<Reading> & Pick<Reading, 'id' | 'at' | 'measure' | 'in'>)[];
}

/** A chosen kit made by hand: no options, no chapters, nets from the leads. */
export function smallKit(kit: SmallKit): ChosenKit {
  const parts = kit.parts.map((part) => ({ when: {}, title: part.id, ...part }) as Part);
  const leads: Lead[] = (kit.leads ?? []).map(([from, to], index) => ({
    ...{ id: `W${index + 1}`, when: {}, from, to, colour: 'red', metres: null, style: 'wire' },
  }));
  const { netOf, placesOf } = computeNets({ parts, leads, nets: kit.nets ?? {} });
  return {
    ...{ format: 'kitwright/1', id: 'small', name: 'Small', revision: 'A', maker: 'Test', about: '' },
    ...{ safeVolts: 30, options: [], layout: {}, chassis: { width: 0.1, depth: 0.1 }, chapters: [] },
    ...{ parts, leads, nets: kit.nets ?? {}, choices: {}, netOf, placesOf },
    conditions: (kit.conditions ?? []).map((condition) => ({
      ...{ when: {}, title: condition.id, supply: 'mains', lampWatts: null, variac: null, fitted: 'all' },
      ...{ switches: {}, controls: {}, input: 'shorted', loads: {}, readyAfterSeconds: 0, cautions: [] },
      ...condition,
    })),
    readings: (kit.readings ?? []).map((reading) => ({
      ...{ when: {}, title: reading.id, against: 'gnd', expect: null, stopAbove: null, stopBelow: null },
      ...{ repeatAfterSeconds: [], proves: null },
      ...reading,
    })),
  };
}

/** A kit of parts only. */
export function chooseParts(parts: readonly LoosePart[]): ChosenKit {
  return smallKit({ parts });
}
