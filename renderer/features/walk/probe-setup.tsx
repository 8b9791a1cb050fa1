import type { Refusal } from '../../../shared-core/safety/refusal.ts';
import type { Build } from '../../bridge/use-build.ts';
import { ActButton } from '../../components/act-button.tsx';

interface ProbeSetupProps {
  readonly build: Build;
  readonly refused: readonly Refusal[];
}

/** What a probe needs before it goes in: hooks or hand-held, chosen once. */
export function ProbeSetup({ build, refused }: ProbeSetupProps) {
  if (!refused.some(({ code }) => code === 'safety/probe-style')) return null;
  return (
    <div className="either">
      <ActButton
        look="plain"
        blocked={!build.known}
        onAct={(by) => void build.act({ kind: 'probe-style-chosen', style: 'hooks', by })}
      >
        I use hooks
      </ActButton>
      <ActButton
        look="plain"
        blocked={!build.known}
        onAct={(by) => void build.act({ kind: 'probe-style-chosen', style: 'hand-held', by })}
      >
        I hold the probe by hand
      </ActButton>
    </div>
  );
}
