import { formatQuantity } from '../units/format-quantity.ts';
import { findValveBase } from '../valves/bases.ts';
import { findValveType } from '../valves/index.ts';
import type { ConditionState } from './condition-model.ts';
import { leastHeaterShare } from './kit-supplies.ts';
import { valveInSocket } from './valve-elements.ts';
import { isFitted } from './wiring.ts';

/**
 * A socket holds a type that the catalogue does not know, or that does not go into it: nothing live is computed.
 *
 * @returns Null where every socket holds a known valve of its base.
 */
export function unknownValve({ model }: Pick<ConditionState, 'model'>): string | null {
  const { chosen, condition, fitted } = model;
  for (const part of chosen.parts) {
    if (part.kind !== 'valve' || !isFitted(part, condition)) continue;
    const type = fitted.valves[part.id] ?? part.type;
    const found = findValveType(type, chosen.valves);
    if (!found) return `the type ${type} in ${part.id} is not in the catalogue`;
    const base = findValveBase(part.socket.base)?.name;
    if (base !== undefined && found.base !== base) {
      return `${found.name} has the base ${found.base} and does not go into the ${base} socket of ${part.id}`;
    }
  }
  return null;
}

/**
 * A heater that gets too little, AC or DC, for its valve to be what its curves say: as in a socket that is wired
 * for another type.
 */
export function starvedHeater(state: ConditionState): string | null {
  const { chosen, context } = state.model;
  for (const part of chosen.parts) {
    const type = part.kind === 'valve' ? valveInSocket(context, part) : undefined;
    for (const [index, { pins, volts }] of (type?.heater.elements ?? []).entries()) {
      const [one, other] = pins.map((pin) => state.volts(context.wiring.netAt(`${part.id}.${pin}`)));
      const alternating = state.mains.heaterVolts[`${part.id}#heater${index + 1}`] ?? 0;
      const fed = Math.max(alternating, Math.abs((one ?? 0) - (other ?? 0)));
      if (fed >= leastHeaterShare * volts) continue;
      const figures = `${formatQuantity(fed, 'V', 2)} of ${formatQuantity(volts, 'V', 2)}`;
      return `the heater of ${part.id} gets ${figures}: too little for anything to be predicted`;
    }
  }
  return null;
}
