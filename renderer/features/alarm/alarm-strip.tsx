import { useEffect, useRef } from 'react';
import { useShown } from '../../bridge/link-context.ts';
import { readAloud } from '../../bridge/speech.ts';
import { soundTone } from '../../bridge/tone.ts';
import type { Build } from '../../bridge/use-build.ts';
import { AlertSymbol } from '../../components/caution-panel.tsx';
import { durationWords } from '../../components/time-words.ts';
import { alarmsOf, lampLeft } from './alarms.ts';
import type { Alarm } from './alarms.ts';

/** An alarm for the plug sounds again after this long, in milliseconds (ms). */
const againMs = 4000;

/** Timers that are over, below the energy state: words always, a tone and a voice as the settings say. */
export function AlarmStrip({ build }: { readonly build: Build }) {
  const alarms = build.known ? alarmsOf(build) : [];
  useHeard(alarms);
  const left = build.known ? lampLeft(build) : null;
  if (alarms.length === 0 && (left ?? 0) === 0) return <div role="alert" />;
  return (
    <>
      {left === null || left === 0 ? null : (
        <p className="alarm">
          On the lamp with valves fitted: <span className="figures">{durationWords(Math.ceil(left))}</span>{' '}
          left.
        </p>
      )}
      <div role="alert">
        {alarms.map(({ id, words, level }) => (
          <p key={id} className={`alarm alarm-${level}`}>
            {level === 'danger' ? <AlertSymbol /> : null}
            <span>{words}</span>
          </p>
        ))}
      </div>
    </>
  );
}

/** Each alarm is heard once; one that asks for the plug until it is gone. */
function useHeard(alarms: readonly Alarm[]): void {
  const { sound, speech } = useShown((state) => state.settings);
  const heard = useRef<ReadonlySet<string>>(new Set());
  const ids = alarms.map(({ id }) => id).join('\n');
  const isDanger = alarms.some(({ level }) => level === 'danger');
  const words = alarms.map((each) => each.words).join(' ');
  useEffect(() => {
    const now = ids === '' ? [] : ids.split('\n');
    const isNew = now.some((id) => !heard.current.has(id));
    heard.current = new Set(now);
    if (!isNew) return;
    if (sound === 'on') soundTone(isDanger ? 'danger' : 'timer');
    if (speech === 'on') readAloud(words);
  }, [ids, isDanger, words, sound, speech]);
  useEffect(() => {
    if (!isDanger || sound === 'off') return undefined;
    const again = setInterval(() => soundTone('danger'), againMs);
    return () => clearInterval(again);
  }, [isDanger, sound]);
}
