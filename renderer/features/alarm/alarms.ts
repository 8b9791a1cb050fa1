import { soakLog } from '../../../shared-core/journal/soak-log.ts';
import { lampLeftSeconds, lampLimitSeconds } from '../../../shared-core/safety/lamp-limit.ts';
import { secondLookAfterMs } from '../../../shared-core/safety/limits.ts';
import type { Build } from '../../bridge/use-build.ts';

/** A timer that is over. */
export interface Alarm {
  /** The same for as long as it is the same timer: it sounds once. */
  readonly id: string;
  readonly words: string;
  /** `danger` asks for the plug, and sounds until it is out. */
  readonly level: 'danger' | 'notice';
}

/** What the alarms are told by. */
export type AlarmBasis = Pick<Build, 'safety' | 'facts' | 'kit' | 'build' | 'now' | 'currentStep'>;

/** How long a timer's end stays on screen where nothing else ends it, in seconds (s). */
const shownSeconds = 15;

/** Every timer that is over now, the plug first. */
export function alarmsOf(basis: AlarmBasis): readonly Alarm[] {
  return [...lampAlarm(basis), ...soakAlarms(basis), ...readyAlarm(basis), ...secondLookAlarms(basis)];
}

/** Time left on the lamp with valves fitted, in seconds (s); null where that clock does not run. */
export function lampLeft({ safety, facts, now }: AlarmBasis): number | null {
  return lampLeftSeconds(safety, facts, now);
}

function lampAlarm(basis: AlarmBasis): readonly Alarm[] {
  const { energy } = basis.safety;
  if (energy.kind !== 'live' || lampLeft(basis) !== 0) return [];
  const words = `${lampLimitSeconds / 60} minutes on the lamp with valves fitted are over. Pull the plug now: F9.`;
  return [{ id: `lamp ${energy.since.tick}`, words, level: 'danger' }];
}

function soakAlarms({ safety, facts, kit, build, now, currentStep }: AlarmBasis): readonly Alarm[] {
  const step = facts.steps.find(({ id }) => id === currentStep);
  const log = step === undefined ? null : soakLog(step, kit.readings, build, safety, now);
  if (step === undefined || log === null) return [];
  const due = log.rows.flatMap((row) => {
    const at = row.due.find(({ is }) => is === 'now');
    return at === undefined ? [] : [{ reading: row.reading, seconds: at.seconds }];
  });
  if (due.length === 0) return [];
  const titles = due.map(({ reading }) => kit.readings.find(({ id }) => id === reading)?.title ?? reading);
  const what = log.leftSeconds === 0 ? 'The time is over. Read again' : 'Due now';
  const last = Math.max(...due.map(({ seconds }) => seconds));
  return [{ id: `soak ${step.id} ${last}`, words: `${what}: ${titles.join(', ')}.`, level: 'notice' }];
}

function readyAlarm({ safety: { energy }, facts, now }: AlarmBasis): readonly Alarm[] {
  if (energy.kind !== 'live' || energy.since.run !== now.run) return [];
  const ready = facts.conditions.find(({ id }) => id === energy.condition)?.readyAfterSeconds ?? 0;
  const since = (now.tick - energy.since.tick) / 1000 - ready;
  if (ready === 0 || since < 0 || since > shownSeconds) return [];
  return [
    { id: `ready ${energy.since.tick}`, words: 'Warmed up: readings are judged now.', level: 'notice' },
  ];
}

function secondLookAlarms({ safety, now }: AlarmBasis): readonly Alarm[] {
  const { energy, clips } = safety;
  if (energy.kind !== 'draining') return [];
  return Object.entries(energy.stores).flatMap(([store, { first, second, needsChecks }]): Alarm[] => {
    const isWaited = first !== null && second === null && !needsChecks && clips[store] === undefined;
    if (!isWaited || first.stamp.run !== now.run) return [];
    const since = now.tick - first.stamp.tick - secondLookAfterMs;
    if (since < 0 || since > shownSeconds * 1000) return [];
    const words = `${secondLookAfterMs / 1000} seconds since the first look at ${store}: look again.`;
    return [{ id: `second ${store} ${first.stamp.tick}`, words, level: 'notice' }];
  });
}
