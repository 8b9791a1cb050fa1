import { findValveBase, valveBases } from '../../valves/bases.ts';
import { findValveType, valveTypeNames } from '../../valves/index.ts';
import { didYouMean } from '../did-you-mean.ts';
import { isBroken } from '../draft.ts';
import type { Finding } from '../draft.ts';
import { pathOfItem } from '../source.ts';
import type { KitCheck } from './check.ts';

/** Valve types that the catalogue does not know, and sockets that do not take the valve. */
export const checkValveTypes: KitCheck = {
  needs: [],
  run: ({ draft, chosen }) =>
    chosen.parts.flatMap((part): Finding[] => {
      if (part.kind !== 'valve') return [];
      const path = pathOfItem(draft.source, 'parts', part);
      const base = findValveBase(part.socket.base);
      if (!base) {
        const known = valveBases.map(({ name }) => name);
        const message = `There is no base "${part.socket.base}"`;
        const hint = didYouMean(part.socket.base, known);
        return [{ code: 'kit/base-mismatch', path: `${path}.socket.base`, message, hint }];
      }
      // What is wrong with a type of the kit's own is already reported.
      if (isBroken(draft, 'valves', part.type.trim().toUpperCase())) return [];
      const type = findValveType(part.type, chosen.valves);
      if (!type) {
        const known = valveTypeNames(chosen.valves);
        const message = `The valve catalogue has no type "${part.type}"`;
        return [
          {
            code: 'kit/unknown-valve-type',
            path: `${path}.type`,
            message,
            hint: didYouMean(part.type, known),
          },
        ];
      }
      if (type.base === base.name) return [];
      const message = `${part.id} is an ${part.type} with a ${type.base} base, but its socket is ${base.name}`;
      const hint = `Fit a ${type.base} socket or a valve for ${base.name}.`;
      return [{ code: 'kit/base-mismatch', path: `${path}.socket.base`, message, hint }];
    }),
};
