import type { KnownInstrument } from '../../../shared-core/contract/instrument.ts';
import { addressWords } from '../../../shared-core/contract/instrument.ts';
import type { Build } from '../../bridge/use-build.ts';
import { ActButton } from '../../components/act-button.tsx';
import { insulationWords } from './instrument-form.ts';

interface RecordInstrumentProps {
  readonly build: Build;
  readonly instrument: KnownInstrument;
}

/** Once in each build: which instrument, and what its insulation is good for, confirmed by hand. */
export function RecordInstrument({ build, instrument }: RecordInstrumentProps) {
  const { identity, name, address, isolated, earthVolts } = instrument;
  const bench = build.build.bench?.meter.label;
  return (
    <>
      <p>
        {name} is on a cable ({addressWords(address)}): {insulationWords(instrument)}. Settings say so; look
        whether that is right.
        {bench === undefined
          ? null
          : ` Readings are judged for the meter of your bench, “${bench}”: if this is another one, record the bench again.`}
      </p>
      <ActButton
        blocked={!build.known}
        onAct={(by) =>
          void build.act({
            kind: 'instrument-recorded',
            by,
            instrument: { identity, name, address: addressWords(address), isolated, earthVolts },
          })
        }
      >
        Use it in this build
      </ActButton>
    </>
  );
}
