import { useEffect, useRef, useState } from 'react';
import { readState, warningVolts } from '../../../shared-core/drawing/pin-volts.ts';
import type { Reading, StepAction } from '../../../shared-core/kit/kit.ts';
import { unitOfMeasure } from '../../../shared-core/kit/read/to-reading.ts';
import type { ReadingPrediction } from '../../../shared-core/prediction/prediction.ts';
import type { ReadingFacts } from '../../../shared-core/safety/facts.ts';
import { isBlocking } from '../../../shared-core/safety/lookup.ts';
import { formatNumber } from '../../../shared-core/units/format-quantity.ts';
import { ActButton } from '../../components/act-button.tsx';
import { EntryForm } from '../../components/entry-form.tsx';
import { Field } from '../../components/field.tsx';
import type { Pressed } from '../../components/keys.ts';
import { emptyHint, readTyped } from '../../components/measure-words.ts';
import { leadWords, placeWords, rangeWords } from '../../../shared-core/report/place-words.ts';
import { RefusalList } from '../../components/refusal-list.tsx';
import { OutOfBand } from './out-of-band.tsx';
import { ProbeFirst } from './probe-first.tsx';
import { ProbePlaces } from './probe-places.tsx';
import { ProbeSetup } from './probe-setup.tsx';
import { largestFigure, stopWords } from '../../../shared-core/report/stop-words.ts';
import { RefusalHelp } from './refusal-help.tsx';
import { SignalFields } from './signal-fields.tsx';
import type { StepPageProps } from './step-props.ts';
import { useTaken } from './use-taken.ts';
import { WarmUp } from './warm-up.tsx';

interface ReadingEntryProps extends StepPageProps {
  readonly reading: Reading;
  readonly facts: ReadingFacts;
  readonly expected: ReadingPrediction | null;
  readonly adjust?: Extract<StepAction, { kind: 'adjust' }>;
}

/** Before the number is typed: where, with what, range and stop limit. Never the band. */
export function ReadingEntry(props: ReadingEntryProps) {
  const { build, reading, facts, expected } = props;
  const unit = unitOfMeasure(reading.measure);
  const [text, setText] = useState('');
  const [from, setTaken] = useTaken(text);
  const instrument = from === null ? {} : { instrument: from };
  const typed = readTyped(text, unit);
  const refused = build.refusalsOf({
    kind: 'reading-entered',
    reading: reading.id,
    entry: typed.entry ?? { kind: 'value', value: 0 },
    typed: text,
    verdict: 'not predicted',
    band: null,
    bandShownBefore: false,
    corrects: null,
    by: 'hand',
    ...instrument,
  });
  const isElsewhere = refused.some(({ code }) => code === 'safety/wrong-condition');
  const isOpen = refused.length === 0 && build.known;
  const field = useRef<HTMLInputElement>(null);
  useEffect(() => {
    if (isOpen) field.current?.focus({ preventScroll: true });
  }, [isOpen, reading.id]);
  const enter = (by: Pressed): void => {
    if (typed.entry === null || !isOpen) return;
    const entered = { reading: reading.id, typed: text, corrects: null, by, ...instrument };
    void build.act({ kind: 'enter-reading', ...entered });
  };
  const stop = stopWords(facts, unit);
  return (
    <section className="reading" aria-label={reading.title}>
      <h2>{reading.title}</h2>
      <p>
        {leadWords(build.kit, reading)} {reading.measure === 'ohms' ? leadsOff(props) : null}
      </p>
      <p className="range">
        <strong>{rangeWords(reading.measure, largestFigure(facts, expected))}</strong>
        {stop === null ? null : <span className="stop-limit"> · {stop}</span>}
      </p>
      <ProbePlaces build={build} reading={reading} expected={expected} />
      <Neighbours build={build} reading={reading} expected={expected} />
      <WarmUp build={build} />
      <ProbeSetup build={build} refused={refused} />
      <ProbeFirst build={build} refused={refused} />
      <RefusalList
        refusals={refused.filter(({ code }) => code !== 'safety/wrong-condition')}
        most={3}
        help={(refusal) => <RefusalHelp refusal={refusal} {...props} />}
      />
      {isElsewhere ? null : (
        <MeterPlace
          meter={props.meter}
          reading={reading}
          onTake={(offered, taken) => {
            setText(offered);
            setTaken({ text: offered, from: taken });
            field.current?.focus({ preventScroll: true });
          }}
        />
      )}
      {isElsewhere ? null : (
        <EntryForm onEnter={enter} isReady={typed.entry !== null && isOpen}>
          {reading.measure === 'gain' ? (
            <SignalFields ref={field} onRatio={setText} />
          ) : (
            <Field
              ref={field}
              label="The meter shows"
              size="reading"
              numeric
              unit={unit}
              value={text}
              onChange={setText}
              echo={
                from === null ? typed.echo : `${typed.echo ?? ''}, from the meter: ⏎ if it shows the same`
              }
              error={typed.error}
              hint={emptyHint(unit)}
            />
          )}
        </EntryForm>
      )}
      {isElsewhere ? <Elsewhere {...props} /> : null}
    </section>
  );
}

type MeterSlot = NonNullable<StepPageProps['meter']>;

/** Where the meter on a cable is shown, if there is one. */
function MeterPlace(props: Parameters<MeterSlot>[0] & Pick<StepPageProps, 'meter'>) {
  const { meter, reading, onTake } = props;
  return meter?.({ reading, onTake }) ?? null;
}

/** A live reading while the amplifier is not in its condition: settle what stands open, then switch on again. */
function Elsewhere(props: ReadingEntryProps) {
  const { build, reading, onStep } = props;
  const standing = build.safety.readings[reading.id];
  const condition = build.facts.conditions.find(({ id }) => id === reading.in);
  const step = build.facts.steps.find(
    ({ action }) => action.kind === 'switch-on' && action.condition === reading.in,
  );
  if (standing !== undefined && isBlocking(standing.verdict) && standing.settled === 'open') {
    return <OutOfBand {...props} />;
  }
  return (
    <div className="step-foot">
      {step === undefined ? null : (
        <ActButton look="move" hotkey="Enter" onAct={() => onStep(step.id)}>
          Switch on: {condition?.title ?? reading.in}
        </ActButton>
      )}
    </div>
  );
}

function leadsOff({ build }: ReadingEntryProps): string {
  const ohms = build.build.bench?.leads.ohms ?? 0;
  return ohms > 0
    ? `Type what the meter shows; the ${formatNumber(ohms)}\u202fΩ of the leads are accounted for.`
    : '';
}

/** What a slipping probe ends up on; roughly, where that is still to be read itself. */
function Neighbours({ build, reading, expected }: Pick<ReadingEntryProps, 'build' | 'reading' | 'expected'>) {
  const dangerous = expected?.neighbours ?? [];
  if (dangerous.length === 0 || build.safety.energy.kind !== 'live') return null;
  const words = dangerous.map(({ place, volts }) => {
    const isRough = readState(build.kit, build.build.readings, reading.in, place) !== 'read';
    return `${placeWords(build.kit, place)} beside it carries ${warningVolts(volts, isRough)}`;
  });
  return <p className="neighbours">{words.join('; ').replace(/^./, (first) => first.toUpperCase())}.</p>;
}
