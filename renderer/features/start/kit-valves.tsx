import { alsoSoldAs } from '../../../shared-core/faults/fit-notes.ts';
import { isFor } from '../../../shared-core/kit/choose-kit.ts';
import type { Choices, Kit } from '../../../shared-core/kit/kit.ts';
import { findValveType } from '../../../shared-core/valves/index.ts';
import { ActButton } from '../../components/act-button.tsx';

interface KitValvesProps {
  readonly kit: Kit;
  readonly choices: Choices;
  readonly onFit: () => void;
}

/** The kit's valves, with the other names they are sold under as far as the catalogue knows. */
export function KitValves({ kit, choices, onFit }: KitValvesProps) {
  const sockets = kit.parts.flatMap((part) =>
    part.kind === 'valve' && isFor(part.when, choices) ? [part] : [],
  );
  if (sockets.length === 0) return null;
  const types = [...new Set(sockets.map(({ type }) => type))];
  return (
    <section className="form-part" aria-label="Valves">
      <dl className="facts">
        {types.map((name) => {
          const type = findValveType(name, kit.valves);
          const sold = type ? alsoSoldAs(type) : null;
          const where = sockets.filter((part) => part.type === name).map(({ id }) => id);
          return (
            <div key={name} className="fact-row">
              <dt>{where.join(', ')}</dt>
              <dd>
                {name}
                {sold === null ? '' : `: ${sold}`}
              </dd>
            </div>
          );
        })}
      </dl>
      <ActButton look="quiet" onAct={onFit}>
        Try another valve in it
      </ActButton>
    </section>
  );
}
