import type { MeterSetup } from '../../../shared-core/safety/events.ts';
import { Field } from '../../components/field.tsx';

interface MeterSetupFieldsProps {
  readonly setup: MeterSetup;
  readonly onChange: (setup: MeterSetup) => void;
}

/** Range and leads: a proof counts only between looks with the same ones. */
export function MeterSetupFields({ setup, onChange }: MeterSetupFieldsProps) {
  return (
    <details className="meter-setup">
      <summary>
        Meter: DC volts, range {setup.range}, {setup.leads}
      </summary>
      <div className="fields">
        <Field label="Range" value={setup.range} onChange={(range) => onChange({ ...setup, range })} />
        <Field label="Leads" value={setup.leads} onChange={(leads) => onChange({ ...setup, leads })} />
      </div>
      <p className="quiet">
        A change asks for the meter to be shown again; looks with other settings do not count together.
      </p>
    </details>
  );
}
