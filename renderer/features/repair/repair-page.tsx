import { useState } from 'react';
import type { CauseFound } from '../../../shared-core/safety/events.ts';
import { isBlocking } from '../../../shared-core/safety/lookup.ts';
import type { Build } from '../../bridge/use-build.ts';
import { ActButton } from '../../components/act-button.tsx';
import { Tick } from '../../components/choice.tsx';
import { Field } from '../../components/field.tsx';
import { Heading } from '../../components/heading.tsx';
import type { Pressed } from '../../components/keys.ts';
import { RefusalList } from '../../components/refusal-list.tsx';
import { CauseChoice } from './cause-choice.tsx';
import { FuseForms } from './fuse-form.tsx';
import { PlacesField, readPlaces } from './places-field.tsx';
import { WorkInsideForm } from './work-inside-form.tsx';

interface RepairPageProps {
  readonly build: Build;
  /** The cause that was chosen where causes are shown, with the places it is at; null for none. */
  readonly cause?: { readonly faults: readonly CauseFound[]; readonly places: readonly string[] } | null;
  readonly onDone: () => void;
  readonly onStores: () => void;
}

/** A fault was found and mended, or something else was done inside. */
export function RepairPage({ build, cause = null, onDone, onStores }: RepairPageProps) {
  const open = Object.entries(build.safety.readings)
    .filter(([, { verdict, settled }]) => isBlocking(verdict) && settled === 'open')
    .map(([id]) => id);
  const [left, setLeft] = useState<readonly string[]>([]);
  const [found, setFound] = useState<CauseFound | null>(cause?.faults[0] ?? null);
  const [what, setWhat] = useState(found?.words ?? '');
  const readings = open.filter((id) => !left.includes(id));
  const [where, setWhere] = useState(cause?.places.join(', ') ?? '');
  const { places, unknown } = readPlaces(where, build.kit.netOf);
  const event = {
    ...({ kind: 'repaired', readings, what: what.trim(), places, by: 'hand' } as const),
    ...(found === null ? {} : { cause: found }),
  } as const;
  const refused = build.refusalsOf(event);
  const needsStores = refused.some(({ code }) => code === 'safety/solder-volts');
  const [onMains, setOnMains] = useState(false);
  const isIncomplete = what.trim() === '' || readings.length === 0 || unknown.length > 0;
  const isBlocked = isIncomplete || refused.length > 0 || !build.known;
  const keep = async (by: Pressed): Promise<void> => {
    // What was done on the mains side asks for the whole cold gate again, whatever the places typed.
    const onMainsSide = { places: [], mainsSide: true, soldering: true };
    if (onMains && !(await build.act({ kind: 'work-inside', what: event.what, ...onMainsSide, by }))) return;
    if (await build.act({ ...event, by })) onDone();
  };
  return (
    <article className="step">
      <header className="step-head">
        <Heading of="repair">{open.length > 0 ? 'Find it, mend it, read again' : 'Work inside'}</Heading>
        <p className="large">
          {open.length > 0
            ? 'Say what you found and what you did. What was touched is read again, cold, then on the lamp.'
            : 'Anything done inside outside the kit’s steps is written down here.'}
        </p>
      </header>
      <div className="step-main">
        <RefusalList refusals={refused} />
        {needsStores ? (
          <ActButton look="quiet" onAct={onStores}>
            Measure the stores
          </ActButton>
        ) : null}
        {open.length > 0 ? (
          <section aria-label="Repair">
            <fieldset className="inspect">
              <legend>Readings that this should mend</legend>
              {open.map((id) => (
                <Tick
                  key={id}
                  checked={!left.includes(id)}
                  onChange={(on) => setLeft(on ? left.filter((each) => each !== id) : [...left, id])}
                >
                  {build.facts.readings.find((each) => each.id === id)?.title ?? id}
                </Tick>
              ))}
            </fieldset>
            {cause === null ? null : (
              <CauseChoice
                faults={cause.faults}
                found={found}
                onChange={(next) => {
                  // What the builder typed stays; what was filled in follows the choice.
                  if (what === (found?.words ?? '')) setWhat(next?.words ?? '');
                  setFound(next);
                }}
              />
            )}
            <Field label="What was wrong, and what was done" size="long" value={what} onChange={setWhat} />
            <PlacesField
              label="Parts and places touched"
              value={where}
              unknown={unknown}
              onChange={setWhere}
            />
            <Tick checked={onMains} onChange={setOnMains}>
              also between the inlet and the transformer, or at the earth lead
            </Tick>
            <div className="step-foot">
              <ActButton look="move" hotkey="Enter" blocked={isBlocked} onAct={(by) => void keep(by)}>
                Repaired
              </ActButton>
            </div>
          </section>
        ) : null}
        <details open={open.length === 0}>
          <summary>Something else was done inside</summary>
          <WorkInsideForm build={build} onDone={onDone} />
        </details>
        <details>
          <summary>A fuse blew</summary>
          <FuseForms build={build} />
        </details>
        <details>
          <summary>The plug is in the wall although it should not be</summary>
          <p>Say so at once: whatever was proven before counts no more.</p>
          <ActButton
            blocked={!build.known}
            onAct={(by) =>
              void build
                .act({ kind: 'found-plugged-in', by })
                .then((isDone) => (isDone ? onDone() : undefined))
            }
          >
            Found plugged in
          </ActButton>
        </details>
      </div>
    </article>
  );
}
