import type { KnownInstrument } from '../../../shared-core/contract/instrument.ts';
import { addressWords } from '../../../shared-core/contract/instrument.ts';
import type { Build } from '../../bridge/use-build.ts';
import { ActButton } from '../../components/act-button.tsx';
import type { Pressed } from '../../components/keys.ts';
import { insulationWords } from './instrument-form.ts';

interface RecordInstrumentProps {
  readonly build: Build;
  readonly instrument: KnownInstrument;
}

/** Once in each build: which instrument, and what its insulation is good for, confirmed by hand. */
export function RecordInstrument({ build, instrument }: RecordInstrumentProps) {
  const { identity, name, address, isolated, earthVolts } = instrument;
  const bench = build.build.bench?.meter.label;
  const add = (by: Pressed): void =>
    void build.act({
      kind: 'instrument-recorded',
      by,
      instrument: { identity, name, address: addressWords(address), isolated, earthVolts },
    });
  return (
    <div className="meter-row">
      <ActButton blocked={!build.known} onAct={add}>
        Use it in this build
      </ActButton>
      <div className="meter-shows">
        <p>{name}</p>
        <p className="meter-asked">
          {insulationWords(instrument)}. Is that so
          {bench === undefined ? '' : `, and is it the “${bench}” of your bench`}?
        </p>
      </div>
    </div>
  );
}
