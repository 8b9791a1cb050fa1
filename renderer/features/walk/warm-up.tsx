import type { Build } from '../../bridge/use-build.ts';
import { durationWords } from '../../components/time-words.ts';

/** How long until readings can be judged; null when that time has come. */
export function secondsToReady({
  safety,
  facts,
  now,
}: Pick<Build, 'safety' | 'facts' | 'now'>): number | null {
  const { energy } = safety;
  if (energy.kind !== 'live') return null;
  const ready = facts.conditions.find(({ id }) => id === energy.condition)?.readyAfterSeconds ?? 0;
  const left = ready - (now.tick - energy.since.tick) / 1000;
  return left > 0 ? left : null;
}

/** The countdown while the valves warm up. */
export function WarmUp({ build }: { readonly build: Build }) {
  const left = secondsToReady(build);
  if (left === null) return null;
  return (
    <p className="countdown">
      Warming up: ready in <span className="figures">{durationWords(Math.ceil(left))}</span>. Until then only
      the stop limit is judged.
    </p>
  );
}
