import { useEffect, useState } from 'react';
import { useLink } from '../../bridge/link-context.ts';
import type { Build } from '../../bridge/use-build.ts';
import { ActButton } from '../../components/act-button.tsx';

/** Waits that can be skipped, in seconds (s). */
const skips = [
  [60, 'Skip 1 minute'],
  [600, 'Skip 10 minutes'],
] as const;

/** Across every screen of a practice power-up: that it is one, its skipped waits, and its meter on the stores. */
export function PracticeBand({ build }: { readonly build: Build }) {
  const link = useLink();
  const { name } = build.kit;
  useEffect(() => {
    const before = document.title;
    document.title = `PRACTICE · ${name} · ${before}`;
    return () => {
      document.title = before;
    };
  }, [name]);
  const skip = async (seconds: number): Promise<void> => {
    const answer = await link.call('practice.skip', { build: build.build.build, seconds });
    if (answer === null) return;
    link.store.setState(answer.ok ? { view: answer.value } : { problems: answer.problems });
  };
  return (
    <section className="practice" aria-label="Practice">
      <p className="practice-word">
        <strong>PRACTICE</strong> simulated readings of an invented amplifier: not yours, and nothing here is
        real
      </p>
      <div className="practice-skips">
        {skips.map(([seconds, words]) => (
          <ActButton key={seconds} onAct={() => void skip(seconds)}>
            {words}
          </ActButton>
        ))}
      </div>
      {build.safety.energy.kind === 'draining' && build.safety.energy.plugOut !== null ? (
        <PracticeStores build={build} />
      ) : null}
    </section>
  );
}

/** What the practice meter shows across each store, and on the battery. */
function PracticeStores({ build }: { readonly build: Build }) {
  const link = useLink();
  const [shown, setShown] = useState<readonly string[]>([]);
  const id = build.build.build;
  const parts = build.facts.stores.map(({ part }) => part).join(' ');
  const second = Math.floor(build.now.tick / 1000);
  useEffect(() => {
    let isOver = false;
    const ask = async (part: string): Promise<string> => {
      const answer = await link.call('practice.meter', { build: id, at: { kind: 'store', id: part } });
      return `${part} ${answer?.ok === true ? `${answer.value}\u202fV` : '—'}`;
    };
    void Promise.all(parts.split(' ').map(ask)).then((all) => (isOver ? undefined : setShown(all)));
    return () => {
      isOver = true;
    };
  }, [link, id, parts, second]);
  const battery = build.build.bench?.batteryVolts ?? null;
  return (
    <p className="practice-meter figures">
      The meter shows: {shown.join(' · ')}
      {battery === null ? '' : ` · on the battery ${(battery * 1.02).toFixed(2)}\u202fV`}
    </p>
  );
}
