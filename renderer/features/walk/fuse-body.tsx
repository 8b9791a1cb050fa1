import { useState } from 'react';
import { formatQuantity } from '../../../shared-core/units/format-quantity.ts';
import { readQuantity } from '../../../shared-core/units/read-quantity.ts';
import { Field } from '../../components/field.tsx';
import type { Pressed } from '../../components/keys.ts';
import { RefusalList } from '../../components/refusal-list.tsx';
import { InspectList } from './inspect-list.tsx';
import { MoveOn } from './move-on.tsx';
import { StepFigures } from './step-figures.tsx';
import type { StepPageProps } from './step-props.ts';

/** A fuse's marking as stamped: speed, then current. */
export function readFuse(text: string): { readonly speed: 'F' | 'T'; readonly amps: number } | null {
  const [, speed, size = ''] = /^\s*([FT])\s*([\d.,]+\s*m?A)\b/i.exec(text) ?? [];
  const amps = readQuantity(size.replace(/a$/i, 'A').replace(/ma$/i, 'mA'), 'A');
  if (speed === undefined || !amps.ok) return null;
  return { speed: speed.toUpperCase() === 'F' ? 'F' : 'T', amps: amps.value };
}

/** The fuse's own marking, read back by the builder. */
export function FuseBody(props: StepPageProps & { readonly part: string }) {
  const { build, part, step } = props;
  const [text, setText] = useState('');
  const isRead = build.safety.gate.fusesRead.includes(part);
  const fuse = readFuse(text);
  const event =
    fuse === null ? null : ({ kind: 'fuse-read', part, ...fuse, typed: text, by: 'hand' } as const);
  const refused = event === null ? [] : build.refusalsOf(event);
  const write = async (by: Pressed): Promise<boolean> =>
    isRead || (event !== null && (await build.act({ ...event, by })));
  return (
    <>
      <div className="step-main">
        {isRead ? (
          <p>The marking of {part} is read back.</p>
        ) : (
          <Field
            label={`Stamped on the cap of ${part}`}
            value={text}
            onChange={setText}
            size="long"
            echo={
              fuse === null
                ? null
                : `${fuse.speed === 'T' ? 'time-lag' : 'fast'}, ${formatQuantity(fuse.amps, 'A')}`
            }
            error={
              text.trim().length > 3 && fuse === null ? 'Expected speed and current, such as T 1 A.' : null
            }
            hint="Speed letter first, then the current, as it is stamped."
          />
        )}
        <RefusalList refusals={refused} />
        <InspectList {...props} />
        <MoveOn {...props} words="Read back and fitted" before={write} />
      </div>
      <StepFigures build={build} step={step} drawn={{ parts: [part], leads: [] }} />
    </>
  );
}
