import { useState } from 'react';
import type { FoundInstrument, KnownInstrument } from '../../../shared-core/contract/instrument.ts';
import { addressWords } from '../../../shared-core/contract/instrument.ts';
import { ActButton } from '../../components/act-button.tsx';
import { Choice } from '../../components/choice.tsx';
import { Field } from '../../components/field.tsx';
import { FindInstrument } from './find-instrument.tsx';
import { insulationWords, readEarthVolts } from './instrument-form.ts';

interface InstrumentSettingsProps {
  readonly instruments: readonly KnownInstrument[];
  readonly onChange: (instruments: readonly KnownInstrument[]) => void;
}

/** Meters on a cable: found once, remembered, and recorded anew in each build that uses them. */
export function InstrumentSettings({ instruments, onChange }: InstrumentSettingsProps) {
  const [found, setFound] = useState<FoundInstrument | null>(null);
  const keep = (instrument: KnownInstrument): void => {
    onChange([instrument, ...instruments.filter(({ identity }) => identity !== instrument.identity)]);
    setFound(null);
  };
  return (
    <section className="form-part" aria-label="Meters on a cable">
      <h2>Meters on a cable</h2>
      <p>
        A bench meter that speaks SCPI, on your network or on a serial port, can put its reading into the
        entry field. It is only ever asked, never set, and nothing counts before you press ⏎. Typing is always
        possible.
      </p>
      {instruments.map((instrument) => (
        <div key={instrument.identity} className="meter-known">
          <p>
            <strong>{instrument.name}</strong>, {addressWords(instrument.address)}:{' '}
            {insulationWords(instrument)}.
          </p>
          <ActButton
            look="quiet"
            onAct={() => onChange(instruments.filter(({ identity }) => identity !== instrument.identity))}
          >
            Forget {instrument.name}
          </ActButton>
        </div>
      ))}
      {found === null ? (
        <FindInstrument onFound={setFound} />
      ) : (
        <Insulation found={found} onKeep={keep} onBack={() => setFound(null)} />
      )}
    </section>
  );
}

interface InsulationProps {
  readonly found: FoundInstrument;
  readonly onKeep: (instrument: KnownInstrument) => void;
  readonly onBack: () => void;
}

/** What nobody can ask an instrument: whether its inputs are isolated. No answer is taken for granted. */
function Insulation({ found, onKeep, onBack }: InsulationProps) {
  const [isolated, setIsolated] = useState<'yes' | 'no' | null>(null);
  const [volts, setVolts] = useState('');
  const earthVolts = isolated === 'yes' ? readEarthVolts(volts) : 0;
  return (
    <>
      <p className="large">{found.name}</p>
      <p>
        It answers at {addressWords(found.address)} as <code>{found.identity}</code>.
      </p>
      <Choice
        label="Are its inputs isolated from earth and from this computer?"
        value={isolated}
        options={['yes', 'no']}
        words={{ yes: 'yes, the manual says so', no: 'no, or I do not know' }}
        onChange={setIsolated}
      />
      {isolated === 'yes' ? (
        <Field
          label="Its inputs may be, from earth"
          numeric
          unit="V"
          value={volts}
          onChange={setVolts}
          error={volts !== '' && earthVolts === null ? 'Write it as 500 V.' : null}
          hint="the lower of the manual’s figures for the black input; printed beside it, as 500 Vpk"
        />
      ) : null}
      {isolated === 'no' ? (
        <p>Then it is refused wherever a probe may meet more than the safe voltage.</p>
      ) : null}
      <ActButton
        look="move"
        blocked={isolated === null || earthVolts === null}
        onAct={() => onKeep({ ...found, isolated: isolated === 'yes', earthVolts: earthVolts ?? 0 })}
      >
        Keep {found.name}
      </ActButton>
      <ActButton look="quiet" onAct={onBack}>
        Look for another one
      </ActButton>
    </>
  );
}
