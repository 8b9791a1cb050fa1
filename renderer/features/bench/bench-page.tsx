import { useState } from 'react';
import type { Bench } from '../../../shared-core/prediction/bench.ts';
import { plainBench } from '../../../shared-core/prediction/bench.ts';
import { useLink, useShown } from '../../bridge/link-context.ts';
import type { Build } from '../../bridge/use-build.ts';
import { ActButton } from '../../components/act-button.tsx';
import { Choice } from '../../components/choice.tsx';
import { Field } from '../../components/field.tsx';
import { Heading } from '../../components/heading.tsx';
import type { Pressed } from '../../components/keys.ts';
import { benchFields, readBench } from './bench-form.ts';
import type { BenchErrors, BenchFields } from './bench-form.ts';

/** Mains, meter, leads and the rest of the bench: the predictions and the gates need them. */
export function BenchPage({ build, onDone }: { readonly build: Build; readonly onDone: () => void }) {
  const { setSettings } = useLink();
  const offered = useShown((state) => state.settings.bench);
  const [fields, setFields] = useState<BenchFields>(() => benchFields(startFrom(build, offered)));
  const read = readBench(fields);
  const errors: BenchErrors = read.ok ? {} : read.errors;
  const set = (part: Partial<BenchFields>): void => setFields({ ...fields, ...part });
  const keep = async (by: Pressed): Promise<void> => {
    if (!read.ok || !(await build.act({ kind: 'bench-recorded', bench: read.bench, by }))) return;
    await setSettings({ bench: read.bench });
    onDone();
  };
  return (
    <article className="step bench">
      <header className="step-head">
        <Heading of="bench">Your bench</Heading>
        <p className="large">What you measure with, and what comes out of the wall.</p>
      </header>
      <div className="step-main">
        <MainsFields fields={fields} errors={errors} set={set} />
        <MeterFields fields={fields} errors={errors} set={set} />
        <LeadFields fields={fields} errors={errors} set={set} />
        <OtherFields fields={fields} errors={errors} set={set} />
        <div className="step-foot">
          <ActButton
            look="move"
            hotkey="Enter"
            blocked={!read.ok || !build.known}
            onAct={(by) => void keep(by)}
          >
            This is my bench
          </ActButton>
        </div>
      </div>
    </article>
  );
}

function startFrom(build: Build, offered: Bench | null): Bench {
  if (build.build.bench !== null) return build.build.bench;
  const chosen = Object.values(build.build.choices).find((choice) => /\d\s*V\b/.test(choice)) ?? '';
  const [, volts, hertz] = /([\d.]+)\s*V(?:\s+([\d.]+)\s*Hz)?/.exec(chosen) ?? [];
  const mains = {
    volts: volts === undefined ? plainBench.mains.volts : Number(volts),
    hertz: hertz === undefined ? plainBench.mains.hertz : Number(hertz),
    source: 'assumed' as const,
  };
  return { ...(offered ?? plainBench), mains };
}

interface SectionProps {
  readonly fields: BenchFields;
  readonly errors: BenchErrors;
  readonly set: (part: Partial<BenchFields>) => void;
}

function MainsFields({ fields, errors, set }: SectionProps) {
  return (
    <section className="form-part" aria-label="Mains">
      <h2>Mains</h2>
      <div className="fields">
        <Field
          label="Voltage"
          numeric
          unit="V"
          value={fields.mains}
          error={errors.mains ?? null}
          onChange={(mains) => set({ mains })}
        />
        <Choice
          label="Frequency"
          value={fields.hertz}
          options={['50', '60']}
          words={{ '50': '50 Hz', '60': '60 Hz' }}
          onChange={(hertz) => set({ hertz })}
        />
        <Choice
          label="How it is known"
          value={fields.source}
          options={['measured', 'assumed']}
          words={{ measured: 'measured with this meter, ±1\u202f%', assumed: 'assumed, ±6\u202f%' }}
          onChange={(source) => set({ source })}
        />
      </div>
    </section>
  );
}

function MeterFields({ fields, errors, set }: SectionProps) {
  return (
    <section className="form-part" aria-label="Meter">
      <h2>Meter</h2>
      <div className="fields">
        <Field label="What you call it" value={fields.meter} onChange={(meter) => set({ meter })} />
        <Choice
          label="Input"
          value={fields.inputKind}
          options={['fixed', 'per-volt']}
          words={{ fixed: 'one resistance (digital)', 'per-volt': 'ohms per volt (pointer)' }}
          onChange={(inputKind) => set({ inputKind })}
        />
        <Field
          label={fields.inputKind === 'fixed' ? 'Input resistance' : 'Ohms per volt'}
          numeric
          unit={fields.inputKind === 'fixed' ? 'Ω' : 'Ω/V'}
          value={fields.input}
          error={errors.input ?? null}
          onChange={(input) => set({ input })}
        />
        <Field
          label="Accuracy, DC volts"
          numeric
          unit="%"
          value={fields.dcAccuracy}
          error={errors.dcAccuracy ?? null}
          onChange={(dcAccuracy) => set({ dcAccuracy })}
        />
        <Field
          label="Accuracy, AC volts"
          numeric
          unit="%"
          value={fields.acAccuracy}
          error={errors.acAccuracy ?? null}
          onChange={(acAccuracy) => set({ acAccuracy })}
        />
        <Field
          label="Accuracy, ohms"
          numeric
          unit="%"
          value={fields.ohmsAccuracy}
          error={errors.ohmsAccuracy ?? null}
          onChange={(ohmsAccuracy) => set({ ohmsAccuracy })}
        />
        <Field
          label="Volts on the probes, ohms range"
          numeric
          unit="V"
          value={fields.ohmsVolts}
          error={errors.ohmsVolts ?? null}
          onChange={(ohmsVolts) => set({ ohmsVolts })}
          hint="A digital meter has some 0.4 V; one with a pointer the volts of its cells, and diodes then conduct."
        />
        <Choice
          label="Plus when measuring ohms"
          value={fields.plusOn}
          options={['red', 'black']}
          words={{ red: 'on the red lead', black: 'on the black lead, as on many pointer meters' }}
          onChange={(plusOn) => set({ plusOn })}
        />
        <Field
          label="Rated to, DC"
          numeric
          unit="V"
          value={fields.meterVolts}
          error={errors.meterVolts ?? null}
          onChange={(meterVolts) => set({ meterVolts })}
        />
        <Choice
          label="Category, the lower of meter and leads"
          value={fields.category}
          options={['none', 'CAT II', 'CAT III', 'CAT IV']}
          onChange={(category) => set({ category })}
        />
      </div>
    </section>
  );
}

function LeadFields({ fields, errors, set }: SectionProps) {
  return (
    <section className="form-part" aria-label="Leads">
      <h2>Leads</h2>
      <div className="fields">
        <Field
          label="Rated to"
          numeric
          unit="V"
          value={fields.leadVolts}
          error={errors.leadVolts ?? null}
          onChange={(leadVolts) => set({ leadVolts })}
        />
        <Field
          label="Probes touching"
          numeric
          unit="Ω"
          value={fields.leadOhms}
          error={errors.leadOhms ?? null}
          onChange={(leadOhms) => set({ leadOhms })}
          hint="What the meter shows; it is taken off cold readings."
        />
      </div>
    </section>
  );
}

function OtherFields({ fields, errors, set }: SectionProps) {
  return (
    <section className="form-part" aria-label="Within reach">
      <h2>Within reach</h2>
      <div className="fields">
        <Field
          label="Filament lamp of the limiter"
          numeric
          unit="W"
          value={fields.lamp}
          error={errors.lamp ?? null}
          onChange={(lamp) => set({ lamp })}
          hint="Never an LED. Empty: no limiter."
        />
        <Field
          label="Battery, as marked"
          numeric
          unit="V"
          value={fields.battery}
          error={errors.battery ?? null}
          onChange={(battery) => set({ battery })}
          hint="Shows before and after a drain that the meter works."
        />
        <Choice
          label="500 V insulation tester"
          value={fields.tester}
          options={['yes', 'no']}
          onChange={(tester) => set({ tester })}
        />
      </div>
    </section>
  );
}
