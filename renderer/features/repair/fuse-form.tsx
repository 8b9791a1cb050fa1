import { useState } from 'react';
import { formatQuantity } from '../../../shared-core/units/format-quantity.ts';
import type { FuseFacts } from '../../../shared-core/safety/facts.ts';
import type { Build } from '../../bridge/use-build.ts';
import { ActButton } from '../../components/act-button.tsx';
import { Field } from '../../components/field.tsx';
import { readTyped } from '../../components/measure-words.ts';
import { RefusalList } from '../../components/refusal-list.tsx';

/** A blown fuse: both sides proven, then one of the same rating and type, once. */
export function FuseForms({ build }: { readonly build: Build }) {
  return build.facts.fuses.map((fuse) => <FuseForm key={fuse.part} build={build} fuse={fuse} />);
}

function FuseForm({ build, fuse }: { readonly build: Build; readonly fuse: FuseFacts }) {
  const { part, amps, speed } = fuse;
  const [sides, setSides] = useState({ a: '', b: '' });
  const [a, b] = [readTyped(sides.a, 'V'), readTyped(sides.b, 'V')];
  const isProven = build.safety.fuseSidesProven.includes(part);
  const replace = { kind: 'fuse-replaced', part, amps, speed, by: 'hand' } as const;
  const refused = build.refusalsOf(replace);
  const [aVolts, bVolts] = [voltsOf(a.entry), voltsOf(b.entry)];
  return (
    <section className="form-part" aria-label={`Fuse ${part}`}>
      <p>
        {part}: {speed} {formatQuantity(amps, 'A')}. Measure DC volts from each side of the fuse to the
        chassis before it is touched.
      </p>
      {isProven ? (
        <p>Both sides are below the safe voltage.</p>
      ) : (
        <div className="fields">
          <Field
            label="One side"
            numeric
            unit="V"
            value={sides.a}
            error={a.error}
            onChange={(text) => setSides({ ...sides, a: text })}
          />
          <Field
            label="Other side"
            numeric
            unit="V"
            value={sides.b}
            error={b.error}
            onChange={(text) => setSides({ ...sides, b: text })}
          />
          <ActButton
            blocked={aVolts === null || bVolts === null || !build.known}
            onAct={(by) => {
              if (aVolts === null || bVolts === null) return;
              void build.act({ kind: 'fuse-sides-looked', part, aVolts, bVolts, by });
            }}
          >
            Both sides measured
          </ActButton>
        </div>
      )}
      <ActButton
        blocked={refused.length > 0 || !build.known}
        onAct={(by) => void build.act({ ...replace, by })}
      >
        {part} replaced: {speed} {formatQuantity(amps, 'A')}
      </ActButton>
      <RefusalList refusals={refused} most={2} />
    </section>
  );
}

function voltsOf(entry: ReturnType<typeof readTyped>['entry']): number | null {
  return entry?.kind === 'value' ? entry.value : null;
}
