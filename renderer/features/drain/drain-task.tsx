import { useRef, useState } from 'react';
import type { StorePrediction } from '../../../shared-core/prediction/prediction.ts';
import { storeAfter } from '../../../shared-core/prediction/store-after.ts';
import type { MeterSetup } from '../../../shared-core/safety/events.ts';
import { formatQuantity } from '../../../shared-core/units/format-quantity.ts';
import type { Build } from '../../bridge/use-build.ts';
import { ActButton } from '../../components/act-button.tsx';
import { Tick } from '../../components/choice.tsx';
import type { Pressed } from '../../components/keys.ts';
import { placeWords } from '../../../shared-core/report/place-words.ts';
import { durationWords } from '../../components/time-words.ts';
import type { DrainTask } from './drain-plan.ts';
import { VoltsForm } from './volts-form.tsx';

interface TaskProps<Task> {
  readonly build: Build;
  readonly task: Task;
  readonly setup: MeterSetup;
}

/** The one thing to do now. */
export function DrainTaskView({ build, task, setup }: TaskProps<DrainTask>) {
  switch (task.kind) {
    case 'unknown-stores':
      return (
        <p className="large">It is not known which capacitors hold a charge. Treat the amplifier as live.</p>
      );
    case 'black-lead':
      return (
        <>
          <p className="large">Clip the black lead to the chassis. One hand; the other stays away.</p>
          <ActButton
            look="move"
            hotkey="Enter"
            blocked={!build.known}
            onAct={(by) => void build.act({ kind: 'black-lead-clipped', by })}
          >
            The black lead is clipped
          </ActButton>
        </>
      );
    case 'meter':
      return <MeterTask build={build} task={task} setup={setup} />;
    case 'checks':
      return <ChecksTask build={build} task={task} setup={setup} />;
    default:
      return <LookTask build={build} task={task} setup={setup} />;
  }
}

function MeterTask({ build, task, setup }: TaskProps<Extract<DrainTask, { kind: 'meter' }>>) {
  const battery = build.build.bench?.batteryVolts ?? null;
  const marked =
    battery === null ? 'a store that still falls' : `the ${formatQuantity(battery, 'V')} battery`;
  return (
    <>
      <p className="large">
        {task.when === 'before' ? 'Show that the meter works' : 'Show once more that the meter works'}:
        measure {marked}.
      </p>
      <VoltsForm
        label="On the battery, DC"
        blocked={!build.known}
        onVolts={(volts, by) => build.act({ kind: 'meter-shown-to-work', setup, volts, by })}
      />
    </>
  );
}

function LookTask({ build, task, setup }: TaskProps<Extract<DrainTask, { kind: 'look' }>>) {
  const opened = useRef(build.now.tick);
  const store = build.facts.stores.find(({ part }) => part === task.store);
  if (store === undefined) return null;
  const clip = build.safety.clips[store.part];
  return (
    <>
      <p className="large">
        {task.which === 'second' ? 'Measure again: ' : 'Measure '}
        <strong>{store.part}</strong>, from {placeWords(build.kit, store.plus)} to{' '}
        {placeWords(build.kit, store.minus)}.
      </p>
      {task.waitSeconds > 0 ? (
        <p className="countdown countdown-large">
          <span className="figures">{durationWords(Math.ceil(task.waitSeconds))}</span>{' '}
          {task.which === 'second' ? 'until the second look counts' : 'until it is worth measuring'}
        </p>
      ) : null}
      {task.waitSeconds > 0 && task.which === 'first' ? (
        <p className="quiet">{bracketWords(build, store)}</p>
      ) : null}
      <VoltsForm
        label={`Across ${store.part}, DC`}
        blocked={!build.known}
        onVolts={(volts, by) =>
          build.act({
            kind: 'store-look',
            store: store.part,
            volts,
            setup,
            enteredAfterMs: build.now.tick - opened.current,
            by,
          })
        }
      />
      <div className="either">
        {clip === undefined ? (
          <ActButton
            look="quiet"
            blocked={!build.known}
            onAct={(by) =>
              void build.act({ kind: 'clip-fitted', store: store.part, ohms: 4700, watts: 5, by })
            }
          >
            A discharge clip, 4.7 kΩ 5 W, is on {store.part}
          </ActButton>
        ) : (
          <ActButton
            look="quiet"
            blocked={!build.known}
            onAct={(by) => void build.act({ kind: 'clip-removed', store: store.part, by })}
          >
            The clip is off {store.part}
          </ActButton>
        )}
      </div>
    </>
  );
}

/** The wait is for cold valves; while they are hot the stores empty sooner, how much is not computed. */
function bracketWords({ safety }: Build, store: StorePrediction): string | null {
  const from = safety.energy.kind === 'draining' ? safety.energy.from : null;
  const { fastSeconds, likelySeconds } = storeAfter(store, from);
  if (fastSeconds === null || likelySeconds === null || fastSeconds >= likelySeconds) return null;
  const span = [fastSeconds, likelySeconds].map((seconds) => durationWords(Math.ceil(seconds)));
  return `Between ${span[0]} with hot valves and ${span[1]} with cold ones after the plug came out; measuring sooner is allowed.`;
}

const questions = {
  place: 'both probes are on the ends of this store, counted from below',
  dcFunction: 'the meter is on DC volts',
  range: 'the range is right',
  hold: 'hold is off',
  leads: 'the leads are whole and in the volts socket',
} as const;
type Question = keyof typeof questions;
const noAnswers: Readonly<Record<Question, boolean>> = {
  place: false,
  dcFunction: false,
  range: false,
  hold: false,
  leads: false,
};

function ChecksTask({ build, task }: TaskProps<Extract<DrainTask, { kind: 'checks' }>>) {
  const [answers, setAnswers] = useState(noAnswers);
  const all = Object.keys(questions) as Question[];
  const isComplete = all.every((question) => answers[question]);
  const send = (by: Pressed): void =>
    void build.act({ kind: 'look-checked', store: task.store, ...answers, by });
  return (
    <>
      <p className="large">
        {task.store} reads lower than the drain explains. That proves nothing yet: check the meter.
      </p>
      <fieldset className="inspect">
        <legend>Check</legend>
        {all.map((question) => (
          <Tick
            key={question}
            checked={answers[question]}
            onChange={(on) => setAnswers({ ...answers, [question]: on })}
          >
            {questions[question]}
          </Tick>
        ))}
      </fieldset>
      <div className="step-foot">
        <ActButton
          look="move"
          hotkey="Enter"
          blocked={!isComplete || !build.known}
          why={isComplete ? undefined : 'Tick what you have checked.'}
          onAct={send}
        >
          All of it is right
        </ActButton>
      </div>
      <p>If one of them was wrong, put it right and measure {task.store} again.</p>
      <VoltsAgain build={build} task={task} />
    </>
  );
}

function VoltsAgain({ build, task }: { readonly build: Build; readonly task: { readonly store: string } }) {
  const opened = useRef(build.now.tick);
  const { energy } = build.safety;
  const last = energy.kind === 'draining' ? energy.stores[task.store]?.looks.at(-1) : undefined;
  if (last === undefined) return null;
  return (
    <details>
      <summary>Measure {task.store} again</summary>
      <VoltsForm
        label={`Across ${task.store}, DC`}
        blocked={!build.known}
        onVolts={(volts, by) =>
          build.act({
            kind: 'store-look',
            store: task.store,
            volts,
            setup: last.setup,
            enteredAfterMs: build.now.tick - opened.current,
            by,
          })
        }
      />
    </details>
  );
}
