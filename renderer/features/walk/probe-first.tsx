import { useState } from 'react';
import type { Refusal } from '../../../shared-core/safety/refusal.ts';
import type { Build } from '../../bridge/use-build.ts';
import { ActButton } from '../../components/act-button.tsx';
import { Field } from '../../components/field.tsx';
import { readTyped } from '../../components/measure-words.ts';
import { meterSetupOf } from '../../components/meter-setup.ts';

interface ProbeFirstProps {
  readonly build: Build;
  readonly refused: readonly Refusal[];
}

/** Shows on the battery that the probe touches, where a probe that touches nothing would pass as well. */
export function ProbeFirst({ build, refused }: ProbeFirstProps) {
  const [text, setText] = useState('');
  const isAsked = refused.some(({ code }) => code === 'safety/probe-not-shown');
  const battery = build.build.bench?.batteryVolts ?? null;
  if (!isAsked || battery === null) return null;
  const { entry, echo, error } = readTyped(text, 'V');
  const volts = entry?.kind === 'value' ? entry.value : null;
  const setup = meterSetupOf(build.safety.energy, build.build.bench);
  return (
    <div className="either">
      <Field
        label="On the battery, DC"
        numeric
        unit="V"
        value={text}
        onChange={setText}
        echo={echo}
        error={error}
      />
      <ActButton
        look="plain"
        blocked={!build.known || volts === null}
        onAct={(by) =>
          volts === null ? undefined : void build.act({ kind: 'meter-shown-to-work', setup, volts, by })
        }
      >
        The battery reads that
      </ActButton>
    </div>
  );
}
