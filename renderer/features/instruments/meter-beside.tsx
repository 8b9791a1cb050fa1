import { useState } from 'react';
import type { KnownInstrument } from '../../../shared-core/contract/instrument.ts';
import type { Reading } from '../../../shared-core/kit/kit.ts';
import type { TakenFrom } from '../../../shared-core/safety/instrument.ts';
import type { Refusal } from '../../../shared-core/safety/refusal.ts';
import { useLink, useShown } from '../../bridge/link-context.ts';
import type { Build } from '../../bridge/use-build.ts';
import { ActButton } from '../../components/act-button.tsx';
import { Choice } from '../../components/choice.tsx';
import { ProblemList } from '../../components/problem-list.tsx';
import { RefusalList } from '../../components/refusal-list.tsx';
import { RecordInstrument } from './record-instrument.tsx';
import { useMeter } from './use-meter.ts';
import type { MeterSeen } from './use-meter.ts';

interface MeterBesideProps {
  readonly build: Build;
  readonly reading: Reading;
  /** Puts a number into the field; entering it is left to the builder's hand. */
  readonly onTake: (text: string, from: TakenFrom) => void;
}

/** Far from the keys of the energy bar, F8 and F9: a finger that slips takes no number instead of an alarm. */
const takeKey = 'F2';

const metered: ReadonlySet<Reading['measure']> = new Set(['dc volts', 'ac volts', 'ohms']);

/** Beside the entry field: what the meter on a cable shows, and one button that takes it into the field. */
export function MeterBeside({ build, reading, onTake }: MeterBesideProps) {
  const known = useShown(({ settings }) => settings.instruments);
  const [chosen, setChosen] = useState<string | null>(null);
  const recorded = (build.safety.instruments ?? []).map(({ identity }) => identity);
  const instrument =
    known.find(({ identity }) => identity === chosen) ??
    known.find(({ identity }) => recorded.includes(identity)) ??
    known[0];
  if (instrument === undefined || !metered.has(reading.measure)) return null;
  return (
    <fieldset className="meter">
      <legend className="unseen">Meter on a cable</legend>
      {known.length > 1 ? (
        <Choice
          label="Which one"
          value={instrument.identity}
          options={known.map(({ identity }) => identity)}
          words={Object.fromEntries(known.map(({ identity, name }) => [identity, name]))}
          onChange={setChosen}
        />
      ) : null}
      {recorded.includes(instrument.identity) ? (
        <Shown
          key={`${instrument.identity} ${reading.id}`}
          {...{ build, reading, onTake, instrument }}
          refusals={refusalsFor(build, reading, instrument)}
        />
      ) : (
        <RecordInstrument build={build} instrument={instrument} />
      )}
    </fieldset>
  );
}

interface ShownProps extends MeterBesideProps {
  readonly instrument: KnownInstrument;
  readonly refusals: readonly Refusal[];
}

function Shown({ build, reading, onTake, instrument, refusals }: ShownProps) {
  const { say } = useLink();
  const [isTaking, setTaking] = useState(false);
  const mayLook = refusals.length === 0 && build.known;
  const { seen, isWaiting, look } = useMeter(
    build.build.build,
    reading.id,
    mayLook ? instrument.identity : null,
  );
  const take = async (): Promise<void> => {
    if (isTaking) return;
    setTaking(true);
    const outcome = await look();
    setTaking(false);
    if (outcome?.kind === 'shows') {
      onTake(outcome.text, outcome.taken);
      say(`${outcome.words}. Press Enter if the meter shows the same.`);
    } else if (outcome?.kind === 'problem') say(outcome.problems.map(({ message }) => message).join(' '));
  };
  // What stands in the way of every entry is said above the field already.
  const own = refusals.filter(({ code }) => instrumentCodes.has(code));
  if (!mayLook) return own.length === 0 ? null : <RefusalList refusals={own} />;
  return (
    <>
      <div className="meter-row">
        <ActButton
          hotkey={takeKey}
          blocked={isTaking}
          why="You can type all the same."
          onAct={(by) => {
            if (by === 'hand') void take();
          }}
        >
          Take from the meter
        </ActButton>
        <div className="meter-shows">
          <p>{instrument.name}</p>
          <p className="meter-number">{shownWords(seen, isWaiting)}</p>
        </div>
      </div>
      {seen?.kind === 'refused' ? <RefusalList refusals={seen.refusals} /> : null}
      {seen?.kind === 'problem' ? <ProblemList problems={seen.problems} /> : null}
    </>
  );
}

function shownWords(seen: MeterSeen['seen'], isWaiting: boolean): string {
  if (seen?.kind === 'shows') return isWaiting ? `${seen.words}, and slow to answer now` : seen.words;
  return seen === null || isWaiting ? 'is being asked' : 'nothing to take';
}

const instrumentCodes: ReadonlySet<Refusal['code']> = new Set([
  'safety/by-hand-only',
  'safety/instrument-volts',
  'safety/instrument-not-recorded',
]);

/** What the rules say of this instrument at this reading, before it is asked anything. */
function refusalsFor(build: Build, reading: Reading, { identity }: KnownInstrument): readonly Refusal[] {
  return build.refusalsOf({
    kind: 'reading-entered',
    reading: reading.id,
    entry: { kind: 'value', value: 0 },
    typed: '',
    verdict: 'not predicted',
    band: null,
    bandShownBefore: false,
    corrects: null,
    by: 'hand',
    instrument: { instrument: identity, reply: '', function: '', range: null },
  });
}
