import { conductionEdges, mainsNets, reachableNets } from '../conduction.ts';
import type { Finding } from '../draft.ts';
import { isPlace } from '../nets.ts';
import { pathOfItem } from '../source.ts';
import { stores } from '../stores.ts';
import { netAt } from './check.ts';
import type { KitCheck } from './check.ts';

/** Stores that nothing empties, that are emptied only through something that may be open, or that cannot be proven. */
export const checkDischarge: KitCheck = {
  needs: ['parts', 'leads', 'nets'],
  run: ({ chosen, draft }) => {
    const edges = conductionEdges(chosen);
    const solid = edges.filter(({ kind }) => kind === 'solid');
    const mains = mainsNets(chosen);
    return stores(chosen).flatMap(({ part, plus, minus }): Finding[] => {
      const path = pathOfItem(draft.source, 'parts', part);
      const [from, to] = [netAt(chosen, plus), netAt(chosen, minus)];
      const findings: Finding[] = [];
      const hasNoPlace = [from, to].some((net) => !(chosen.placesOf[net] ?? []).some(isPlace));
      if (hasNoPlace) {
        const message = `DANGER: the store ${part.id} has no place where a probe can prove it empty`;
        const hint = 'Give both ends a tag, pin or test point.';
        findings.push({ code: 'kit/danger-no-place-to-prove', path, message, hint, atKey: true });
      }
      // Mains capacitors have a check of their own, which asks for more.
      if (mains.has(from) && mains.has(to)) return findings;
      if (reachableNets(solid, [from]).has(to)) return findings;
      const hint = `Fit a bleeder from ${plus} to ${minus}, soldered straight across.`;
      if (reachableNets(edges, [from]).has(to)) {
        const message = `DANGER: the store ${part.id} is emptied only through a fuse, diode, valve, switch or connector`;
        findings.push({ code: 'kit/danger-weak-discharge', path, message, hint, atKey: true });
        return findings;
      }
      const message = `DANGER: nothing empties the store ${part.id} once the plug is out`;
      findings.push({ code: 'kit/danger-no-discharge', path, message, hint, atKey: true });
      return findings;
    });
  },
};

/** Capacitors across the mains need a bleeder of their own, or the plug's pins stay live. */
export const checkMainsCapacitors: KitCheck = {
  needs: ['parts', 'leads', 'nets'],
  run: ({ chosen, draft }) => {
    const mains = mainsNets(chosen);
    return chosen.parts.flatMap((part): Finding[] => {
      if (part.kind !== 'capacitor') return [];
      const [one, other] = part.between.map((end) => netAt(chosen, end));
      if (one === undefined || other === undefined || one === other) return [];
      if (!mains.has(one) || !mains.has(other)) return [];
      const isBled = chosen.parts.some((bleeder) => {
        if (bleeder.kind !== 'resistor') return false;
        const nets = bleeder.between.map((end) => netAt(chosen, end));
        return nets.includes(one) && nets.includes(other);
      });
      if (isBled) return [];
      const path = pathOfItem(draft.source, 'parts', part);
      const message = `DANGER: ${part.id} is across the mains without a bleeder of its own`;
      const hint = `Solder a resistor from ${part.between[0]} to ${part.between[1]}.`;
      return [{ code: 'kit/danger-mains-capacitor', path, message, hint, atKey: true }];
    });
  },
};
