import { drainScene } from '../../../shared-core/drawing/drain-scene.ts';
import { storeAfter } from '../../../shared-core/prediction/store-after.ts';
import type { Draining } from '../../../shared-core/safety/energy-state.ts';
import type { Build } from '../../bridge/use-build.ts';
import { FigureView } from '../../components/figure-view.tsx';

interface DrainPlotProps {
  readonly build: Build;
  readonly draining: Draining;
  readonly store: string;
}

/** The drain of one store: its three curves and what was measured. */
export function DrainPlot({ build, draining, store }: DrainPlotProps) {
  const { facts, now } = build;
  const prediction = facts.stores.find(({ part }) => part === store);
  const { plugOut, timeKnown } = draining;
  if (prediction === undefined) return null;
  if (!timeKnown || plugOut === null) {
    return (
      <p className="quiet">Since when it drains is not known: no curve can say what to expect. Measure.</p>
    );
  }
  const looks = (draining.stores[store]?.looks ?? []).map(({ stamp, volts }) => ({
    seconds: (stamp.tick - plugOut.tick) / 1000,
    volts,
  }));
  const seconds = (now.tick - plugOut.tick) / 1000;
  return (
    <FigureView
      scene={drainScene(storeAfter(prediction, draining.from), facts.safeVolts, looks, seconds)}
      caption={`${store} after the plug came out: slow, likely and fast, and what you measured`}
      typeScale={1.35}
    />
  );
}
