import type { Bench } from '../../shared-core/prediction/bench.ts';
import type { EnergyState } from '../../shared-core/safety/energy-state.ts';
import type { MeterSetup } from '../../shared-core/safety/events.ts';

/** The setting that the looks so far were taken with, so that they go on counting; else that of the bench's meter. */
export function meterSetupOf(energy: EnergyState, bench: Bench | null): MeterSetup {
  const proofs = energy.kind === 'draining' ? energy.meterProofs : [];
  const stores = energy.kind === 'live' ? {} : energy.stores;
  const last = proofs.at(-1)?.setup ?? Object.values(stores).at(-1)?.looks.at(-1)?.setup;
  const label = bench?.meter.label.trim() ?? '';
  const leads = label === '' ? 'the red and black pair' : `the red and black pair of ${label}`;
  return last ?? { function: 'dc volts', range: '600 V', leads };
}
