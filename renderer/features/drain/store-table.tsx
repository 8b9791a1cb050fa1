import type { Draining } from '../../../shared-core/safety/energy-state.ts';
import { formatQuantity } from '../../../shared-core/units/format-quantity.ts';
import type { Build } from '../../bridge/use-build.ts';
import { MarkDone } from '../../components/mark-done.tsx';
import { placeWords } from '../../../shared-core/report/place-words.ts';
import { durationWords } from '../../components/time-words.ts';
import { secondsToWorthIt, storeWords } from './drain-plan.ts';

interface StoreTableProps {
  readonly build: Build;
  readonly draining: Draining;
  readonly active: string | null;
  readonly onChoose: (store: string) => void;
}

/** Every store with its place, its last look and how far it is. */
export function StoreTable({ build, draining, active, onChoose }: StoreTableProps) {
  const { facts, safety, kit, now } = build;
  return (
    <table className="stores">
      <caption className="unseen">Stores to prove</caption>
      <thead>
        <tr>
          <th scope="col">Store</th>
          <th scope="col">Across</th>
          <th scope="col">Last look</th>
          <th scope="col">How far</th>
        </tr>
      </thead>
      <tbody>
        {facts.stores.map(({ part, plus, minus }) => {
          const progress = draining.stores[part];
          const last = progress?.looks.at(-1);
          const isOnClip = safety.clips[part] !== undefined;
          const wait = secondsToWorthIt(part, draining, facts, now);
          const isProven =
            progress !== undefined && progress.first !== null && (progress.second !== null || isOnClip);
          return (
            <tr key={part} className={part === active ? 'is-next' : undefined}>
              <th scope="row">
                <button
                  type="button"
                  className="act act-quiet"
                  aria-pressed={part === active}
                  onClick={() => onChoose(part)}
                >
                  {part}
                </button>
              </th>
              <td>
                {placeWords(kit, plus)} – {placeWords(kit, minus)}
              </td>
              <td className="figures">{last === undefined ? '—' : formatQuantity(last.volts, 'V')}</td>
              <td>
                {isProven && progress?.needsChecks !== true ? <MarkDone how="done" /> : null}
                {storeWords(progress, isOnClip)}
                {progress === undefined && wait !== null && wait > 0 ? (
                  <span className="quiet"> · likely below in {durationWords(Math.ceil(wait))}</span>
                ) : null}
                {isSlow(last) ? (
                  <strong className="finding"> · slower than it should: look at its bleeder</strong>
                ) : null}
              </td>
            </tr>
          );
        })}
      </tbody>
    </table>
  );
}

/** Above the slow curve: an open bleeder is a finding of its own. */
function isSlow(look: { readonly volts: number; readonly slowVolts: number | null } | undefined): boolean {
  return look?.slowVolts != null && look.volts > look.slowVolts;
}
