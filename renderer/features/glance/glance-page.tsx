import { useId, useMemo, useState } from 'react';
import { glanceScene } from '../../../shared-core/drawing/glance-scene.ts';
import { glanceSockets } from '../../../shared-core/drawing/socket-glance.ts';
import type { SocketGlance } from '../../../shared-core/drawing/socket-glance.ts';
import type { Build } from '../../bridge/use-build.ts';
import { useExpectation } from '../../bridge/use-expectation.ts';
import { Heading } from '../../components/heading.tsx';
import { SceneView } from '../../components/scene-view.tsx';
import { GlanceTable } from './glance-table.tsx';
import { conditionToShow, glanceConditions } from './glance-conditions.ts';

/** The amplifier at a glance: every socket from below, turned as mounted, with what is known at each pin. */
export function GlancePage({ build }: { readonly build: Build }) {
  const { kit, safety } = build;
  const [wanted, setWanted] = useState<string | null>(null);
  const shown = wanted ?? conditionToShow(kit, build.build, safety);
  const prediction = useExpectation(shown)?.prediction ?? null;
  const { readings, fitted } = build.build;
  const volts = prediction?.netVolts ?? null;
  const sockets = useMemo(
    () => (shown === null ? [] : glanceSockets(kit, { readings, fitted }, shown, volts)),
    [kit, readings, fitted, shown, volts],
  );
  const { energy } = safety;
  // Only the condition that is on can be what is inside now; a drain from it may still hold it.
  const isLive =
    (energy.kind === 'live' && energy.condition === shown) ||
    (energy.kind === 'draining' && (energy.from ?? shown) === shown);
  return (
    <article className="wide glance-page">
      <Heading of="glance">The amplifier at a glance</Heading>
      <ConditionField kit={kit} value={shown} onChange={setWanted} />
      <p className="quiet">
        Every socket from below, turned as it is mounted. Bold: measured, with its verdict. In brackets:
        expected, shown once the first number is entered.
        {isLive ? ' Ringed twice, in red: above the safe voltage.' : ''}
      </p>
      {sockets.length === 0 ? <p>This kit has no valve socket.</p> : null}
      <div className="glance">
        {sockets.map((socket) => (
          <SocketFigure key={socket.part.id} socket={socket} isLive={isLive} />
        ))}
      </div>
      <GlanceTable sockets={sockets} />
    </article>
  );
}

function SocketFigure({ socket, isLive }: { readonly socket: SocketGlance; readonly isLive: boolean }) {
  const scene = useMemo(() => glanceScene(socket, isLive), [socket, isLive]);
  return (
    <figure>
      <SceneView scene={scene} />
      <figcaption>{socket.part.title}</figcaption>
    </figure>
  );
}

interface ConditionFieldProps {
  readonly kit: Build['kit'];
  readonly value: string | null;
  readonly onChange: (condition: string) => void;
}

function ConditionField({ kit, value, onChange }: ConditionFieldProps) {
  const id = useId();
  return (
    <div className="field">
      <label htmlFor={id}>Condition</label>
      <select id={id} value={value ?? ''} onChange={(event) => onChange(event.target.value)}>
        {glanceConditions(kit).map((condition) => (
          <option key={condition.id} value={condition.id}>
            {condition.title}
          </option>
        ))}
      </select>
    </div>
  );
}
