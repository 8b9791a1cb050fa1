import { typesForBase } from '../../../shared-core/valves/index.ts';
import { ValveForm } from '../../components/valve-form.tsx';
import type { StepPageProps } from './step-props.ts';
import { socketsToFit } from './walk-mode.ts';

/** The valves that go in at this step, each with what is printed on it. */
export function ValvesToFit({ build, step }: StepPageProps) {
  const { kit, facts, safety, act, known } = build;
  const valves = kit.parts.filter((part) => part.kind === 'valve');
  const sockets = socketsToFit(
    facts,
    step.id,
    valves.map(({ id }) => id),
    safety.valvesFitted,
  );
  if (sockets.length === 0) return null;
  return (
    <>
      {valves
        .filter(({ id }) => sockets.includes(id))
        .map((valve) => (
          <ValveForm
            key={valve.id}
            socket={valve.id}
            title={valve.title}
            type={valve.type}
            known={typesForBase(valve.socket.base, kit.valves)}
            blocked={!known}
            onFit={(fitted, by) => void act({ kind: 'valve-fitted', socket: valve.id, ...fitted, by })}
          />
        ))}
    </>
  );
}
