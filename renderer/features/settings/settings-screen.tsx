import type { ReactNode } from 'react';
import type { Settings } from '../../../shared-core/contract/settings.ts';
import { ActButton } from '../../components/act-button.tsx';
import { Choice } from '../../components/choice.tsx';
import { Heading } from '../../components/heading.tsx';
import { HandsFree } from './hands-free.tsx';

interface SettingsScreenProps {
  readonly settings: Settings;
  readonly onChange: (settings: Partial<Settings>) => void;
  readonly onBack: () => void;
  /** More sections. */
  readonly children?: ReactNode;
}

const sizes = ['1', '1.25', '1.5', '2'] as const;

/** How it looks, and what it does for hands that are busy. */
export function SettingsScreen({ settings, onChange, onBack, children }: SettingsScreenProps) {
  return (
    <main className="page">
      <Heading of="settings">Settings</Heading>
      <section className="form-part" aria-label="How it looks">
        <Choice
          label="Text size"
          value={String(settings.textSize) as (typeof sizes)[number]}
          options={sizes}
          words={{ '1': '100 %', '1.25': '125 %', '1.5': '150 %', '2': '200 %' }}
          onChange={(size) => onChange({ textSize: Number(size) })}
        />
        <Choice
          label="Paper"
          value={settings.theme}
          options={['as the system', 'light', 'dark']}
          onChange={(theme) => onChange({ theme })}
        />
        <Choice
          label="Movement"
          value={settings.motion}
          options={['as the system', 'reduced']}
          onChange={(motion) => onChange({ motion })}
        />
        <Choice
          label="Contrast"
          value={settings.contrast}
          options={['as the system', 'more']}
          onChange={(contrast) => onChange({ contrast })}
        />
      </section>
      <HandsFree settings={settings} onChange={onChange} />
      {children}
      <ActButton look="move" hotkey="Enter" onAct={onBack}>
        Back
      </ActButton>
    </main>
  );
}
