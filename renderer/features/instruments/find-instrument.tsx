import { useEffect, useState } from 'react';
import type { FoundInstrument, SerialPortName } from '../../../shared-core/contract/instrument.ts';
import { serialFrames } from '../../../shared-core/contract/instrument.ts';
import { useLink } from '../../bridge/link-context.ts';
import type { Told } from '../../bridge/link.ts';
import { ActButton } from '../../components/act-button.tsx';
import { Choice } from '../../components/choice.tsx';
import { Field } from '../../components/field.tsx';
import { ProblemList } from '../../components/problem-list.tsx';
import { emptyAddress, readAddress } from './instrument-form.ts';
import type { AddressFields } from './instrument-form.ts';

interface FindInstrumentProps {
  readonly onFound: (found: FoundInstrument) => void;
}

/** An address to ask: of the network, or of a serial port. */
export function FindInstrument({ onFound }: FindInstrumentProps) {
  const { call, say } = useLink();
  const [fields, setFields] = useState(emptyAddress);
  const [problems, setProblems] = useState<readonly Told[]>([]);
  const [isAsking, setAsking] = useState(false);
  const change = (changes: Partial<AddressFields>): void => setFields({ ...fields, ...changes });
  const address = readAddress(fields);
  const find = async (): Promise<void> => {
    if (address === null || isAsking) return;
    setAsking(true);
    const answer = await call('instrument.find', { address });
    setAsking(false);
    if (answer === null) return;
    setProblems(answer.ok ? [] : answer.problems);
    say(answer.ok ? `Found: ${answer.value.name}` : answer.problems.map(({ message }) => message).join(' '));
    if (answer.ok) onFound(answer.value);
  };
  return (
    <>
      <Choice
        label="Where it is"
        value={fields.way}
        options={['network', 'serial port']}
        words={{ network: 'on the network', 'serial port': 'on a serial port, or USB as one' }}
        onChange={(way) => change({ way })}
      />
      {fields.way === 'network' ? (
        <div className="fields">
          <Field
            label="Its address"
            value={fields.host}
            onChange={(host) => change({ host })}
            hint="192.168.1.20, from its network menu"
          />
          <Field
            label="Port"
            value={fields.port}
            onChange={(port) => change({ port })}
            hint="5025 is usual"
          />
        </div>
      ) : (
        <SerialFields fields={fields} onChange={change} />
      )}
      <ProblemList problems={problems} />
      <ActButton
        blocked={address === null || isAsking}
        why={isAsking ? 'It is being asked.' : 'Fill in where it is.'}
        onAct={() => void find()}
      >
        Ask who is there
      </ActButton>
    </>
  );
}

interface SerialFieldsProps {
  readonly fields: AddressFields;
  readonly onChange: (changes: Partial<AddressFields>) => void;
}

function SerialFields({ fields, onChange }: SerialFieldsProps) {
  const { call } = useLink();
  const [ports, setPorts] = useState<readonly SerialPortName[]>([]);
  const [problems, setProblems] = useState<readonly Told[]>([]);
  useEffect(() => {
    let isGone = false;
    void call('instrument.ports', {}).then((answer) => {
      if (answer === null || isGone) return;
      if (answer.ok) setPorts(answer.value);
      else setProblems(answer.problems);
    });
    return () => {
      isGone = true;
    };
  }, [call]);
  return (
    <>
      <ProblemList problems={problems} />
      {ports.length === 0 ? null : (
        <Choice
          label="Ports of this computer"
          value={ports.some(({ path }) => path === fields.path) ? fields.path : null}
          options={ports.map(({ path }) => path)}
          words={Object.fromEntries(
            ports.map(({ path, about }) => [path, about === '' ? path : `${path}, ${about}`]),
          )}
          onChange={(path) => onChange({ path })}
        />
      )}
      <div className="fields">
        <Field
          label="Port"
          value={fields.path}
          onChange={(path) => onChange({ path })}
          hint="/dev/ttyUSB0, /dev/tty.usbserial-1 or COM3"
        />
        <Field
          label="Speed"
          numeric
          unit="bit/s"
          value={fields.speed}
          onChange={(speed) => onChange({ speed })}
          hint="9600, from its interface menu; empty: the usual ones are tried"
        />
      </div>
      {fields.speed.trim() === '' ? null : (
        <Choice
          label="Data bits, parity, stop bits"
          value={fields.frame}
          options={serialFrames}
          onChange={(frame) => onChange({ frame })}
        />
      )}
    </>
  );
}
