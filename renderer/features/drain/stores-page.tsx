import { useRef, useState } from 'react';
import { formatQuantity } from '../../../shared-core/units/format-quantity.ts';
import type { Build } from '../../bridge/use-build.ts';
import { ActButton } from '../../components/act-button.tsx';
import { Heading } from '../../components/heading.tsx';
import { meterSetupOf } from '../../components/meter-setup.ts';
import { placeWords } from '../../../shared-core/report/place-words.ts';
import { VoltsForm } from './volts-form.tsx';

/** The stores of a dead amplifier: volts now, for soldering and ohms, and the discharge clips. */
export function StoresPage({ build }: { readonly build: Build }) {
  const { facts, safety, kit } = build;
  const [chosen, setChosen] = useState(facts.stores[0]?.part ?? null);
  const store = facts.stores.find(({ part }) => part === chosen);
  const neverCharged = safety.energy.kind === 'dead' && safety.energy.proof === 'never plugged in';
  return (
    <article className="step">
      <header className="step-head">
        <Heading of="stores">Stores, now</Heading>
        <p className="large">Below 5 V to solder; below 0.5 V to measure ohms, clips off.</p>
      </header>
      <div className="step-main">
        <table className="stores">
          <caption className="unseen">Stores</caption>
          <thead>
            <tr>
              <th scope="col">Store</th>
              <th scope="col">Across</th>
              <th scope="col">Last look</th>
              <th scope="col">Clip</th>
            </tr>
          </thead>
          <tbody>
            {facts.stores.map(({ part, plus, minus }) => (
              <tr key={part} className={part === chosen ? 'is-next' : undefined}>
                <th scope="row">
                  <ActButton look="quiet" pressed={part === chosen} onAct={() => setChosen(part)}>
                    {part}
                  </ActButton>
                </th>
                <td>
                  {placeWords(kit, plus)} – {placeWords(kit, minus)}
                </td>
                <td className="figures">
                  {safety.deadVolts[part] === undefined
                    ? neverCharged
                      ? 'never charged'
                      : 'not taken'
                    : formatQuantity(safety.deadVolts[part], 'V')}
                </td>
                <td>
                  <Clip build={build} store={part} />
                </td>
              </tr>
            ))}
          </tbody>
        </table>
        {store === undefined ? null : (
          <LookNow key={`${store.part} ${build.build.seq}`} build={build} store={store.part} />
        )}
      </div>
    </article>
  );
}

/** One look; its time runs from here, for each store anew. */
function LookNow({ build, store }: { readonly build: Build; readonly store: string }) {
  const opened = useRef(build.now.tick);
  const setup = meterSetupOf(build.safety.energy, build.build.bench);
  return (
    <VoltsForm
      label={`Across ${store}, DC`}
      blocked={!build.known}
      onVolts={(volts, by) => {
        const enteredAfterMs = build.now.tick - opened.current;
        return build.act({ kind: 'store-look', store, volts, setup, enteredAfterMs, by });
      }}
    />
  );
}

function Clip({ build, store }: { readonly build: Build; readonly store: string }) {
  const isOn = build.safety.clips[store] !== undefined;
  return (
    <ActButton
      look="quiet"
      blocked={!build.known}
      onAct={(by) =>
        void build.act(
          isOn
            ? { kind: 'clip-removed', store, by }
            : { kind: 'clip-fitted', store, ohms: 4700, watts: 5, by },
        )
      }
    >
      {isOn ? 'on: take it off' : 'off: put it on'}
    </ActButton>
  );
}
