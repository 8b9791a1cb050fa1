import { useState } from 'react';
import type { Reading } from '../../../shared-core/kit/kit.ts';
import { ActButton } from '../../components/act-button.tsx';
import { Field } from '../../components/field.tsx';
import { RefusalList } from '../../components/refusal-list.tsx';
import type { StepPageProps } from './step-props.ts';

interface OutOfBandProps extends Pick<StepPageProps, 'build' | 'onPage' | 'causes'> {
  readonly reading: Reading;
  /** Left out where it cannot be read again now. */
  readonly onAgain?: () => void;
}

/** A reading that does not fit: read again, repair, or accept it with a reason. */
export function OutOfBand({ build, reading, onAgain, onPage, causes }: OutOfBandProps) {
  const isLive = build.safety.energy.kind === 'live';
  const isStop = build.safety.readings[reading.id]?.verdict === 'stop';
  return (
    <div className="out-of-band">
      <p className="large">
        {isStop ? 'This reading was past its stop limit.' : 'This reading does not fit.'}
      </p>
      <p>
        First look at the meter: place, counted from below, function, range, hold, leads.
        {isLive
          ? ' Then read again. If it stays, pull the plug, prove every store empty, and look for the fault.'
          : ' Then look for the fault, write down what was repaired, and read again.'}
      </p>
      <div className="step-foot">
        {onAgain === undefined ? null : (
          <ActButton look="move" hotkey="Enter" takesFocus onAct={onAgain}>
            Read again
          </ActButton>
        )}
        {isLive ? null : (
          <ActButton look={onAgain === undefined ? 'move' : 'plain'} onAct={() => onPage('repair')}>
            Record a repair
          </ActButton>
        )}
      </div>
      {causes?.()}
      <Acceptance build={build} reading={reading} />
    </div>
  );
}

/** Only *out of band*, or two readings too far apart, can be accepted; the rules say where not even that. */
export function Acceptance({ build, reading }: OutOfBandCore) {
  const [reason, setReason] = useState('');
  const event = { kind: 'verdict-accepted', reading: reading.id, reason, by: 'hand' } as const;
  const refused = build.refusalsOf(event).filter(({ code }) => code !== 'safety/reason-missing');
  if (refused.length > 0) return <RefusalList refusals={refused} />;
  return (
    <details>
      <summary>Accept it as it is, with a reason</summary>
      <Field
        label="Reason"
        size="long"
        value={reason}
        onChange={setReason}
        hint="It is printed in the report and counted."
      />
      <ActButton
        look="plain"
        blocked={reason.trim() === '' || !build.known}
        onAct={(by) => void build.act({ ...event, by })}
      >
        Accept
      </ActButton>
    </details>
  );
}

type OutOfBandCore = Pick<OutOfBandProps, 'build' | 'reading'>;
