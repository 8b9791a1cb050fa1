import { useState } from 'react';
import type { ReactNode } from 'react';
import type { Draining } from '../../../shared-core/safety/energy-state.ts';
import type { MeterSetup } from '../../../shared-core/safety/events.ts';
import { drainNeeds } from '../../../shared-core/safety/safety.ts';
import { formatQuantity } from '../../../shared-core/units/format-quantity.ts';
import type { Build } from '../../bridge/use-build.ts';
import { Heading } from '../../components/heading.tsx';
import { meterSetupOf } from '../../components/meter-setup.ts';
import { DrainPlot } from './drain-plot.tsx';
import { drainTask, lookTask } from './drain-plan.ts';
import type { DrainTask } from './drain-plan.ts';
import { DrainTaskView } from './drain-task.tsx';
import { MeterSetupFields } from './meter-setup-fields.tsx';
import { StoreTable } from './store-table.tsx';

interface DrainPageProps {
  readonly build: Build;
  readonly draining: Draining;
  /** The same condition may be entered again without a proof: offered where the rules allow it. */
  readonly onReenter: (() => void) | null;
  readonly onStores: () => void;
  /** What may explain readings that do not fit. */
  readonly causes?: ReactNode;
}

/** From draining to dead: measuring, never waiting. */
export function DrainPage({ build, draining, onReenter, causes }: DrainPageProps) {
  const { facts, safety, now } = build;
  const [setup, setSetup] = useState<MeterSetup>(() => meterSetupOf(draining, build.build.bench));
  const [picked, setPicked] = useState<{ readonly store: string; readonly looks: number } | null>(null);
  const needs = drainNeeds(build.build.safety, now, facts);
  const batteryVolts = build.build.bench?.batteryVolts ?? null;
  const looks = Object.values(draining.stores).reduce((sum, { looks: taken }) => sum + taken.length, 0);
  // A store that was picked by hand is for one look; then the plan goes on.
  const chosen = picked?.looks === looks ? picked.store : null;
  const planned = drainTask({ draining, safety, facts, now, setup, needs, batteryVolts });
  const task: DrainTask | null =
    chosen !== null && planned?.kind === 'look' && planned.store !== chosen
      ? (lookTask(chosen, needs, { draining, facts, now }) ?? plainLook(chosen))
      : planned;
  const store = task !== null && 'store' in task ? task.store : (facts.stores[0]?.part ?? null);
  return (
    <article className="step drain">
      <header className="step-head">
        <p className="step-place">
          <span>draining</span>
          <span>{whyWords(draining)}</span>
        </p>
        <Heading of={`drain ${draining.since?.tick ?? ''}`}>Prove every store empty</Heading>
      </header>
      <div className="step-main">
        {task === null ? null : (
          <DrainTaskView key={`${keyOf(task)} ${looks}`} build={build} task={task} setup={setup} />
        )}
        <StoreTable
          build={build}
          draining={draining}
          active={store}
          onChoose={(part) => setPicked({ store: part, looks })}
        />
        {causes}
        <MeterSetupFields setup={setup} onChange={setSetup} />
        {onReenter === null ? null : (
          <p>
            Nothing was moved or touched since the plug came out: the same condition may be entered again.{' '}
            <button type="button" className="act act-quiet" onClick={onReenter}>
              To switching on again
            </button>
          </p>
        )}
      </div>
      <div className="step-figures">
        {store === null ? null : <DrainPlot build={build} draining={draining} store={store} />}
        <p className="quiet">
          Safe to touch below {formatQuantity(facts.safeVolts, 'V')}. Soldering asks for below 5 V. A charge
          creeps back: each store is measured twice, 60 seconds apart.
        </p>
      </div>
    </article>
  );
}

/** Any store may be looked at, whether the proof asks for it or not. */
function plainLook(store: string): DrainTask {
  return { kind: 'look', store, which: 'first', waitSeconds: 0 };
}

function keyOf(task: DrainTask): string {
  return [task.kind, 'store' in task ? task.store : '', 'when' in task ? task.when : ''].join(' ');
}

function whyWords({ why }: Draining): string {
  const words: Readonly<Record<Draining['why'], string>> = {
    'plug pulled': 'the plug was pulled',
    'assembled elsewhere': 'assembled elsewhere: nothing is known',
    'old record': 'an old record: nothing is known',
    closed: 'the app was closed: time unknown',
    'asleep or clock set': 'the computer slept or its clock was set: time unknown',
    idle: 'nothing happened for an hour: time unknown',
    'found plugged in': 'found plugged in: time unknown',
    'charge found': 'a charge was found',
    'clip off early': 'a discharge clip came off early',
    'kit changed': 'the kit was changed: its stores are proven anew',
    'journal broken': 'the journal is broken: nothing is known',
  };
  return words[why];
}
