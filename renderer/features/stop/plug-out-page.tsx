import type { Draining } from '../../../shared-core/safety/energy-state.ts';
import type { Build } from '../../bridge/use-build.ts';
import { ActButton } from '../../components/act-button.tsx';
import { CautionPanel } from '../../components/caution-panel.tsx';
import { Heading } from '../../components/heading.tsx';

interface PlugOutPageProps {
  readonly build: Build;
  readonly draining: Draining;
}

/**
 * Resumed, or of unknown past: the plug is asked for before anything else.
 *
 * It may appear under a ⏎ that was meant for a reading, so ⏎ alone does not confirm it.
 */
export function PlugOutPage({ build, draining }: PlugOutPageProps) {
  return (
    <article className="stop-page">
      <p className="step-place">
        <span>State: draining, time unknown</span>
      </p>
      <Heading of="plug out">Is the plug out?</Heading>
      <p className="large">{whyWords(draining)}</p>
      <CautionPanel level="warning">
        Nothing is known about the charge inside. Hands stay out until every store has been measured.
      </CautionPanel>
      <p className="large">Pull the plug out of the wall and lay it where you can see it.</p>
      <ActButton
        look="move"
        blocked={!build.known}
        onAct={(by) => void build.act({ kind: 'plug-out-confirmed', by })}
      >
        The plug is out and in sight
      </ActButton>
    </article>
  );
}

function whyWords({ why }: Draining): string {
  switch (why) {
    case 'closed':
      return 'The app was closed while energy may have been inside.';
    case 'asleep or clock set':
      return 'The computer slept, or its clock was set.';
    case 'assembled elsewhere':
      return 'This amplifier was assembled elsewhere.';
    case 'found plugged in':
      return 'The amplifier was found plugged in.';
    case 'idle':
      return 'Nothing was done for an hour.';
    case 'kit changed':
      return 'The kit of this build was changed: other capacitors may hold a charge now.';
    case 'journal broken':
      return 'The journal of this build is broken or was cut.';
    default:
      return 'It is not known what happened since the last proof.';
  }
}
