import { useState } from 'react';
import type { ReactNode } from 'react';
import type { StepAction } from '../../../shared-core/kit/kit.ts';
import type { Verdict } from '../../../shared-core/bands/verdict.ts';
import { useLink, useShown } from '../../bridge/link-context.ts';
import { useExpectation } from '../../bridge/use-expectation.ts';
import { useFoot } from '../../bridge/use-foot.ts';
import { ActButton } from '../../components/act-button.tsx';
import type { StepFacts } from '../../../shared-core/safety/facts.ts';
import { InspectList } from './inspect-list.tsx';
import { JudgedView } from './judged-view.tsx';
import { MoveOn } from './move-on.tsx';
import { ReadingEntry } from './reading-entry.tsx';
import { useTurning } from './use-turning.tsx';
import { ReadingFigures } from './reading-figures.tsx';
import { ReadingList } from './reading-list.tsx';
import { nextReading } from './reading-words.ts';
import type { StepPageProps } from './step-props.ts';

interface ReadingStationProps extends StepPageProps {
  readonly readings: readonly string[];
  readonly adjust?: Extract<StepAction, { kind: 'adjust' }>;
  /** Only what is read after this step's time counts. */
  readonly soak?: StepFacts;
  /** The readings that are due now, while nothing else is to be read; left out where all of them are. */
  readonly due?: readonly string[];
  /** Said above the readings. */
  readonly children?: ReactNode;
}

/** The readings of a step, one after the other: entry, verdict, the next one. */
export function ReadingStation(props: ReadingStationProps) {
  const { build, readings, step, soak, due, onNext, children } = props;
  const { forget } = useLink();
  const judged = useShown((state) => state.judged);
  const [chosen, setChosen] = useState<string | null>(askedOf(props));
  const turning = useTurning(props);
  const held = judged !== null && readings.includes(judged.reading) ? judged : null;
  const next = due === undefined ? nextReading(readings, build.safety, soak) : (due[0] ?? null);
  const active = held?.reading ?? chosen ?? next;
  const reading = build.kit.readings.find(({ id }) => id === active);
  const facts = build.facts.readings.find(({ id }) => id === active);
  const expectation = useExpectation(reading?.in ?? null);
  const expected = expectation?.prediction.readings.find(({ id }) => id === active) ?? null;
  const choose = (id: string): void => {
    forget();
    setChosen(id);
  };
  const goOn = (): void => {
    forget();
    setChosen(null);
    turning.begin();
  };
  const isTurning = held !== null && held.reading === props.adjust?.reading && turning.isOn(held.verdict);
  const finish = async (by: 'hand' | 'repeat' | 'foot'): Promise<void> => {
    goOn();
    const event = { kind: 'step-done', step: step.id, by } as const;
    const isLast = nextReading(readings, build.safety, soak) === null && build.refusalsOf(event).length === 0;
    if (isLast && build.currentStep === step.id && (await build.act(event))) onNext();
  };
  useFoot(() => void finish('foot'), held !== null && !isTurning && isGood(held.verdict));
  return (
    <>
      <div className="step-main">
        {children}
        {turning.target}
        {reading === undefined || facts === undefined ? null : held !== null && !isTurning ? (
          <JudgedView
            {...props}
            reading={reading}
            judged={held}
            onKeep={(by) => void finish(by)}
            onAgain={() => choose(reading.id)}
          />
        ) : (
          <ReadingEntry
            key={`${reading.id} ${turning.count}`}
            {...props}
            reading={reading}
            facts={facts}
            expected={expected}
          />
        )}
        {isTurning ? turning.giveUp : null}
        {readings.length > 1 ? (
          <ReadingList build={build} readings={readings} active={active} onChoose={choose} />
        ) : null}
        <NoTester {...props} />
        <InspectList {...props} />
        {active === null && held === null && due === undefined ? <MoveOn {...props} words="Go on" /> : null}
      </div>
      <ReadingFigures build={build} step={step} reading={reading ?? null} expectation={expectation} />
    </>
  );
}

/** The reading that the builder came for, where this step takes it. */
function askedOf({ asked, readings }: ReadingStationProps): string | null {
  return asked != null && readings.includes(asked) ? asked : null;
}

/** What the one control says is "Keep". */
function isGood(verdict: Verdict): boolean {
  return verdict === 'as expected' || verdict === 'borderline' || verdict === 'not predicted';
}

/** No 500 V tester: said and printed, instead of measured. */
function NoTester({ build, readings }: ReadingStationProps) {
  const asks = build.facts.readings.some(
    ({ id, proves }) => proves === 'insulation' && readings.includes(id),
  );
  if (!asks || build.build.bench?.hasInsulationTester === true) return null;
  if (build.safety.gate.insulationNotTested) return <p>Recorded: insulation NOT tested.</p>;
  return (
    <ActButton
      look="plain"
      blocked={!build.known}
      onAct={(by) => void build.act({ kind: 'insulation-not-tested', by })}
    >
      No tester at hand: record “insulation NOT tested”
    </ActButton>
  );
}
