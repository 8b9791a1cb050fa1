import type { Part } from '../kit/kit.ts';
import { endsOf } from '../kit/places.ts';
import { netOfPlace } from '../prediction/wiring.ts';
import type { BuiltKit, Fault } from './fault.ts';
import { jointFaults } from './joint-faults.ts';
import { leadFaults } from './lead-faults.ts';
import { lookAlikeFaults } from './look-alikes.ts';
import { partFaults } from './part-faults.ts';
import { settingFaults } from './setting-faults.ts';
import { valveFaults } from './valve-faults.ts';

/** Faults that make the same circuit: nothing electrical tells them apart. */
export interface FaultCase {
  /** The first fault's id; unique in its list. */
  readonly id: string;
  readonly faults: readonly Fault[];
  readonly built: BuiltKit;
}

/** Every single fault of a kit, as its circuit, its joints and the valve catalogue give them. */
export function listFaults(healthy: BuiltKit): readonly Fault[] {
  const { chosen, fitted } = healthy;
  return [
    ...partFaults(chosen),
    ...lookAlikeFaults(chosen),
    ...valveFaults(chosen, fitted),
    ...jointFaults(chosen),
    ...leadFaults(chosen),
    ...settingFaults(chosen),
  ];
}

/**
 * The single faults of a kit, those of one and the same circuit together.
 *
 * Faults that change nothing (a lead on the tag beside, which is the same net) are left out.
 */
export function listFaultCases(healthy: BuiltKit): readonly FaultCase[] {
  const none = signatureOf(healthy);
  const found = new Map<string, { readonly built: BuiltKit; readonly faults: Fault[] }>();
  for (const fault of listFaults(healthy)) {
    const built = fault.build(healthy);
    const signature = signatureOf(built);
    if (signature === none) continue;
    const known = found.get(signature);
    if (known) known.faults.push(fault);
    else found.set(signature, { built, faults: [fault] });
  }
  return [...found.values()].map(({ built, faults }) => ({
    id: `${faults[0]?.part} ${faults[0]?.kind}`,
    faults,
    built,
  }));
}

const partTexts = new WeakMap<Part, string>();

/** A part without its places and what is only for people. */
function textOf(part: Part): string {
  const known = partTexts.get(part);
  if (known !== undefined) return known;
  const text = JSON.stringify(part, (key, value: unknown) =>
    key === 'title' || key === 'marking' || key === 'between' ? undefined : value,
  );
  partTexts.set(part, text);
  return text;
}

/**
 * What the circuit is made of, whatever its nets are called: parts in order, each end as the number of its
 * net by first appearance, then the places of the readings, settings and valves.
 */
function signatureOf({ chosen, fitted, flaw }: BuiltKit): string {
  const numbers = new Map<string, number>();
  const numberOf = (place: string): number => {
    const net = netOfPlace(chosen, place);
    const known = numbers.get(net) ?? numbers.size;
    numbers.set(net, known);
    return known;
  };
  numberOf('chassis');
  const texts: string[] = [];
  for (const part of chosen.parts) {
    const places = 'between' in part ? part.between : endsOf(part).map((end) => `${part.id}.${end}`);
    if (part.kind === 'tag-strip' || part.kind === 'hardware') continue;
    texts.push(`${textOf(part)}${places.map(numberOf).join(',')}`);
  }
  for (const { at, against } of chosen.readings) texts.push(`${numberOf(at)}-${numberOf(against)}`);
  texts.push(JSON.stringify([fitted.valves, flaw, chosen.conditions]));
  return texts.join('\n');
}
