import type { ValvePart } from '../../../shared-core/kit/kit.ts';
import type { SocketDifference } from '../../../shared-core/safety/sockets.ts';
import { typesForBase } from '../../../shared-core/valves/index.ts';
import type { Build } from '../../bridge/use-build.ts';
import { ActButton } from '../../components/act-button.tsx';
import { ValveForm } from '../../components/valve-form.tsx';
import { AdjusterButton } from './adjuster-button.tsx';

interface SocketChangesProps {
  readonly build: Build;
  readonly differences: readonly SocketDifference[];
}

/** One control for each socket that is not recorded as the next condition wants it: taken out, or fitted. */
export function SocketChanges({ build, differences }: SocketChangesProps) {
  return differences.map((difference) => {
    const valve = build.kit.parts.find(({ id }) => id === difference.socket);
    if (valve?.kind !== 'valve') return null;
    const Change = difference.shouldBe === 'empty' ? ValveOut : ValveIn;
    return <Change key={valve.id} build={build} valve={valve} difference={difference} />;
  });
}

interface ChangeProps {
  readonly build: Build;
  readonly valve: ValvePart;
  readonly difference: SocketDifference;
}

function ValveOut({ build, valve, difference }: ChangeProps) {
  const { act, known } = build;
  return (
    <section className="valve-form" aria-label={`${valve.id} comes out`}>
      <h2>
        {valve.id}: {valve.title}
      </h2>
      <p>
        {difference.is === 'fitted'
          ? 'It comes out for the next condition.'
          : 'Nothing is recorded of this socket. If a valve is in it, take it out.'}{' '}
        Glass that was on is hot: wait until it has cooled.
      </p>
      <ActButton
        look="plain"
        blocked={!known}
        onAct={(by) => void act({ kind: 'valve-removed', socket: valve.id, by })}
      >
        The socket of {valve.id} is empty
      </ActButton>
    </section>
  );
}

/** A fixed-bias valve waits for its adjusters: the rules refuse it before. */
function ValveIn({ build, valve }: ChangeProps) {
  const { facts, safety, kit, act, known } = build;
  const bias = facts.fixedBias.find(({ socket }) => socket === valve.id);
  const adjuster = bias?.adjusters.find((each) => !safety.adjustersMostNegative.includes(each));
  if (adjuster !== undefined) return <AdjusterButton build={build} adjuster={adjuster} />;
  return (
    <ValveForm
      socket={valve.id}
      title={valve.title}
      type={valve.type}
      known={typesForBase(valve.socket.base, kit.valves)}
      blocked={!known}
      onFit={(fitted, by) => void act({ kind: 'valve-fitted', socket: valve.id, ...fitted, by })}
    />
  );
}
