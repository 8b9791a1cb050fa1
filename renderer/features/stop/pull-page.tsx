import { unitOfMeasure } from '../../../shared-core/kit/read/to-reading.ts';
import type { Build } from '../../bridge/use-build.ts';
import { ActButton } from '../../components/act-button.tsx';
import { CautionPanel } from '../../components/caution-panel.tsx';
import { entryWords } from '../../components/measure-words.ts';
import { Heading } from '../../components/heading.tsx';

/**
 * Past a stop limit, or something is wrong: one action only.
 *
 * ⏎ alone does not confirm it: it was just pressed to enter the number, and the second ⏎ of habit would say that
 * a plug is out which is still in the wall.
 */
export function PullPage({ build, onPlugOut }: { readonly build: Build; readonly onPlugOut: () => void }) {
  const { energy } = build.safety;
  const pull = energy.kind === 'live' ? energy.mustPull : null;
  const reading =
    pull?.kind === 'stop' ? build.kit.readings.find(({ id }) => id === pull.reading) : undefined;
  const last = pull?.kind === 'stop' ? build.build.readings[pull.reading]?.entries.at(-1) : undefined;
  return (
    <article className="stop-page">
      <CautionPanel level="danger">
        <Heading of="pull the plug">Pull the plug now</Heading>
        <p className="large">
          {pull?.kind === 'stop'
            ? `${reading?.title ?? pull.reading} is past its stop limit${last === undefined ? '' : `: ${entryWords(last.entry, reading === undefined ? 'V' : unitOfMeasure(reading.measure))}`}.`
            : 'Something is wrong. The plug first, the words afterwards.'}
        </p>
      </CautionPanel>
      <p className="large">
        Pull the plug out of the wall and lay it where you can see it. Touch nothing inside.
      </p>
      <p>With both hands free: F9, then ⏎, says that it is out.</p>
      <p className="quiet">What may explain it is shown once the plug is out.</p>
      <p>If someone is hurt: cut the power before touching them, then call the local emergency number.</p>
      <ActButton
        look="move"
        blocked={!build.known}
        onAct={(by) =>
          void build
            .act({ kind: 'plug-out-confirmed', by })
            .then((isDone) => (isDone ? onPlugOut() : undefined))
        }
      >
        The plug is out and in sight
      </ActButton>
    </article>
  );
}
