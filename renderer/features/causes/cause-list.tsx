import type { ToldCause } from '../../../shared-core/faults/explain.ts';
import type { Build } from '../../bridge/use-build.ts';
import { ActButton } from '../../components/act-button.tsx';
import { bandsOf } from '../../components/part-words.ts';
import { ResistorBands } from '../../components/resistor-bands.tsx';
import { askedAgain, capital, mostNamed, percentWords, repairPlaces } from './cause-words.ts';

/** Causes shown; the last line is always shown. */
const mostCauses = 5;

/** Above this the last line is the advice. */
const adviseFrom = 1 / 3;

interface CauseListProps {
  readonly build: Build;
  readonly causes: readonly ToldCause[];
  readonly chosen: number;
  readonly onChoose: (index: number) => void;
  readonly onRepair: (cause: ToldCause) => void;
}

/** The likeliest causes; the last line is what the model cannot see. */
export function CauseList({ causes, ...props }: CauseListProps) {
  const last = causes.at(-1);
  const shown = causes.slice(0, -1).slice(0, mostCauses);
  return (
    <section className="causes-part" aria-labelledby="causes-list">
      <h2 id="causes-list">Probable causes</h2>
      <ol className="causes-rows">
        {shown.map((cause, index) => (
          <li key={cause.group}>
            <Chance {...cause} />
            <Cause {...props} causes={causes} cause={cause} index={index} />
          </li>
        ))}
        {last === undefined ? null : (
          <li>
            <Chance {...last} />
            <div>
              <p>{capital(last.group)}.</p>
              {last.probability > adviseFrom ? (
                <p className="causes-advice">
                  Look the whole amplifier over, joint by joint against the drawing, with the plug out and
                  every store proven empty, and ask the maker.
                </p>
              ) : null}
            </div>
          </li>
        )}
      </ol>
    </section>
  );
}

function Chance({ chance, probability }: Pick<ToldCause, 'chance' | 'probability'>) {
  return (
    <span className="causes-chance">
      <span className="figures">{percentWords(probability)}</span> <span>{chance}</span>
    </span>
  );
}

interface CauseProps extends CauseListProps {
  readonly cause: ToldCause;
  readonly index: number;
}

function Cause({ build, cause, index, chosen, onChoose, onRepair }: CauseProps) {
  const isChosen = index === chosen;
  const isGroup = cause.faults.length > 1;
  return (
    <div>
      <button
        type="button"
        className="causes-name"
        aria-expanded={isChosen}
        onClick={() => onChoose(isChosen ? -1 : index)}
      >
        {capital(cause.group)}
        {isGroup ? `, or ${cause.faults.length - 1} more` : ''}
      </button>
      {isChosen ? (
        <div className="causes-open">
          {isGroup ? <Group cause={cause} /> : null}
          <LookAndTouch build={build} cause={cause} onRepair={onRepair} />
        </div>
      ) : null}
    </div>
  );
}

/** Faults that look alike so far are said to be so. */
function Group({ cause: { faults } }: Pick<CauseProps, 'cause'>) {
  const named = faults.slice(0, mostNamed).map(({ words }) => words);
  const left = faults.length - named.length;
  return (
    <>
      <p>These {faults.length} cannot be told apart by what was measured:</p>
      <ul className="causes-group">
        {named.map((words) => (
          <li key={words}>{words}</li>
        ))}
        {left > 0 ? <li>and {left} more</li> : null}
      </ul>
    </>
  );
}

/** What to do about a cause, as advice: nothing of it is to be done before the amplifier is dead. */
function LookAndTouch({ build, cause, onRepair }: Pick<CauseProps, 'build' | 'cause' | 'onRepair'>) {
  const { repair } = cause;
  if (repair === null) return null;
  const isDead = build.safety.energy.kind === 'dead';
  const again = askedAgain(build, repairPlaces(repair, build.kit.netOf));
  return (
    <>
      <p>
        {isDead ? '' : 'Pull the plug, lay it in sight and prove every store empty. Then: '}
        {repair.look}
      </p>
      {repair.parts.map((id) => {
        const part = build.kit.parts.find((each) => each.id === id);
        const bands = part?.kind === 'resistor' ? bandsOf(part) : null;
        return bands === null ? null : (
          <p key={id} className="causes-bands">
            {id} should be <ResistorBands bands={bands} />
          </p>
        );
      })}
      <p className="quiet">
        Mending it asks for {again.length === 1 ? 'one reading' : `${again.length} readings`} again
        {again.length === 0 ? '' : `: ${again.slice(0, mostNamed).join(', ')}`}
        {again.length > mostNamed ? ` and ${again.length - mostNamed} more` : ''}. The cold ones come first,
        then the lamp stage; every other reading keeps its verdict.
      </p>
      {isDead ? (
        <ActButton look="plain" onAct={() => onRepair(cause)}>
          It was this: record the repair
        </ActButton>
      ) : null}
    </>
  );
}
