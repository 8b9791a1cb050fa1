import type { JudgedReading } from '../../../shared-core/contract/calls.ts';
import { bandScene } from '../../../shared-core/drawing/band-scene.ts';
import type { Reading } from '../../../shared-core/kit/kit.ts';
import { useTogether } from '../../bridge/use-together.ts';
import { ActButton } from '../../components/act-button.tsx';
import type { Pressed } from '../../components/keys.ts';
import { entryWords } from '../../components/measure-words.ts';
import { SceneView } from '../../components/scene-view.tsx';
import { VerdictMark } from '../../components/verdict-mark.tsx';
import { FromOthers } from './from-others.tsx';
import { Narrowed } from './narrowed.tsx';
import { OutOfBand } from './out-of-band.tsx';
import { bandWords } from './reading-words.ts';
import type { StepPageProps } from './step-props.ts';

interface JudgedViewProps extends StepPageProps {
  readonly reading: Reading;
  readonly judged: JudgedReading;
  readonly onKeep: (by: Pressed) => void;
  readonly onAgain: () => void;
}

/** After the number: the band with the reading on it, the verdict in words and shape, what moved and why. */
export function JudgedView(props: JudgedViewProps) {
  const { build, reading, judged, onKeep, onAgain } = props;
  const { expectation, verdict, words } = judged;
  const { together } = useTogether();
  // At once what moved in this condition; once computed, what moved in all of them.
  const moved = together?.moved ?? judged.moved;
  const last = build.build.readings[reading.id]?.entries.at(-1);
  const value = last?.entry.kind === 'value' ? last.entry.value : null;
  const scene = bandScene(expectation, value);
  const isBlocking = verdict === 'out of band' || verdict === 'stop';
  const settled = build.safety.readings[reading.id]?.settled;
  return (
    <section className="reading" aria-label={reading.title}>
      <h2>{reading.title}</h2>
      {scene === null ? (
        <p>
          <span className="measured-value figures">
            {last === undefined ? '' : entryWords(last.entry, expectation.unit)}
          </span>{' '}
          {bandWords(expectation)}
        </p>
      ) : (
        <div className="band-large">
          <SceneView scene={scene} />
        </div>
      )}
      <p className="verdict-line">
        <VerdictMark verdict={verdict} words={words} />
      </p>
      {isBlocking && settled === 'open' ? (
        <OutOfBand {...props} reading={reading} onAgain={onAgain} />
      ) : (
        <div className="step-foot">
          <ActButton
            look="move"
            hotkey="Enter"
            takesFocus
            onAct={verdict === 'still warming' ? onAgain : onKeep}
          >
            {verdict === 'still warming' ? 'Read again' : 'Keep'}
          </ActButton>
          {verdict === 'still warming' ? null : (
            <ActButton look="quiet" onAct={onAgain}>
              Read again
            </ActButton>
          )}
        </div>
      )}
      <Narrowed reading={reading} judged={judged} value={value} />
      {moved.length === 0 ? null : (
        <ul className="moved">
          {moved.map((sentence) => (
            <li key={sentence}>{sentence}</li>
          ))}
        </ul>
      )}
      <FromOthers reading={reading} unit={expectation.unit} together={together} />
    </section>
  );
}
