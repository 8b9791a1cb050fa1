import { useEffect, useMemo, useState } from 'react';
import { chassisScene } from '../../../shared-core/drawing/chassis-scene.ts';
import type { Explanation, ToldCause } from '../../../shared-core/faults/explain.ts';
import { useLink } from '../../bridge/link-context.ts';
import type { Build } from '../../bridge/use-build.ts';
import { useExplanation } from '../../bridge/use-explanation.ts';
import { FigureView } from '../../components/figure-view.tsx';
import { Heading } from '../../components/heading.tsx';
import { CauseList } from './cause-list.tsx';
import { adviceWords, chosenCause, percentWords } from './cause-words.ts';
import type { ChosenCause } from './cause-words.ts';
import { NextStepView } from './next-step.tsx';
import { SlipList } from './slip-list.tsx';

interface CausesPageProps {
  readonly build: Build;
  /** Goes to a reading, with its gates. */
  readonly onReading: (reading: string) => void;
  readonly onDrain: () => void;
  readonly onStores: () => void;
  readonly onRepair: (cause: ChosenCause) => void;
}

/** What may explain readings that are off: slips, causes, and what to measure next. Advice only. */
export function CausesPage(props: CausesPageProps) {
  const { build } = props;
  const { say } = useLink();
  const [without, setWithout] = useState<readonly string[]>([]);
  const { explanation, progress } = useExplanation(true, without);
  const first = explanation?.causes[0];
  const said =
    first === undefined ? '' : `Probable cause: ${first.group}, ${percentWords(first.probability)}`;
  useEffect(() => {
    if (said !== '') say(said);
  }, [said, say]);
  return (
    <article className="step causes">
      <header className="step-head">
        <p className="step-place">
          <span>advice: it decides nothing</span>
        </p>
        <Heading of="causes">What may explain this</Heading>
        {explanation === null ? (
          <Waiting progress={progress} />
        ) : (
          <p className="large">{adviceWords(build, explanation)}</p>
        )}
      </header>
      {explanation === null || explanation.healthy ? null : (
        <Found {...props} explanation={explanation} onOther={(id) => setWithout([...without, id])} />
      )}
    </article>
  );
}

/** Nobody waits for it: everything else on the screen can be used. */
function Waiting({ progress }: { readonly progress: number | null }) {
  if (progress === null) return <p>There is no reading to explain yet.</p>;
  return (
    <p className="causes-wait">
      <label>
        Every fault this amplifier can have is being worked out. <progress value={progress} />
      </label>
    </p>
  );
}

interface FoundProps extends CausesPageProps {
  readonly explanation: Explanation;
  readonly onOther: (id: string) => void;
}

function Found({ explanation, onOther, ...props }: FoundProps) {
  const { build, onReading, onDrain, onStores, onRepair } = props;
  const { causes, slips, next } = explanation;
  const [chosen, setChosen] = useState(0);
  const cause = causes.slice(0, -1)[chosen];
  return (
    <>
      <div className="step-main">
        <SlipList build={build} slips={slips} onReading={onReading} />
        <CauseList
          build={build}
          causes={causes}
          chosen={chosen}
          onChoose={setChosen}
          onRepair={(found) => onRepair(chosenCause(found))}
        />
        <NextStepView
          build={build}
          next={next}
          onReading={onReading}
          onDrain={onDrain}
          onStores={onStores}
          onOther={onOther}
        />
      </div>
      <div className="step-figures">
        <WhereFigure build={build} cause={cause} next={next?.place ?? null} />
      </div>
    </>
  );
}

interface WhereFigureProps {
  readonly build: Build;
  readonly cause: ToldCause | undefined;
  /** Where the next measurement is taken. */
  readonly next: string | null;
}

/** Where the chosen cause sits, and where the next measurement is taken. */
function WhereFigure({ build, cause, next }: WhereFigureProps) {
  const { kit, facts } = build;
  const named = (cause?.repair?.parts ?? []).join(' ');
  const places = [...new Set([...(cause?.repair?.places ?? []), ...(next === null ? [] : [next])])].join(' ');
  const scene = useMemo(() => {
    const ids = named.split(' ');
    return chassisScene(kit, {
      parts: kit.parts.filter(({ id }) => ids.includes(id)).map(({ id }) => id),
      leads: kit.leads.filter(({ id }) => ids.includes(id)).map(({ id }) => id),
      places: places === '' ? [] : places.split(' '),
    });
    // The kit is the same object only within one view; its hash says when it really changed.
    // oxlint-disable-next-line react/exhaustive-deps
  }, [facts.kitHash, named, places]);
  return <FigureView scene={scene} caption="Chassis from below: where to look" typeScale={1.4} />;
}
