import type { NextStep } from '../../../shared-core/faults/next-step.ts';
import type { Build } from '../../bridge/use-build.ts';
import { ActButton } from '../../components/act-button.tsx';
import { percentWords } from './cause-words.ts';
import { PlaceEntry } from './place-entry.tsx';

/** Outcomes told of one measurement. */
const mostOutcomes = 4;

interface NextStepProps {
  readonly build: Build;
  readonly next: NextStep | null;
  readonly onReading: (reading: string) => void;
  readonly onDrain: () => void;
  readonly onStores: () => void;
  /** Another one, because this cannot be done. */
  readonly onOther: (id: string) => void;
}

/** The one measurement or action that separates the causes best, and what each outcome would mean. */
export function NextStepView(props: NextStepProps) {
  const { next } = props;
  return (
    <section className="causes-part" aria-labelledby="causes-next">
      <h2 id="causes-next">Next</h2>
      {next === null ? <p>Nothing that can be measured now tells more.</p> : <Told {...props} next={next} />}
    </section>
  );
}

function Told(props: NextStepProps & { readonly next: NextStep }) {
  const { build, next, onOther } = props;
  const isCold = isColdStep(build, next);
  const other = next.reading ?? actionId(next);
  return (
    <>
      <p className="large">{next.action}</p>
      <table className="causes-outcomes">
        <thead>
          <tr>
            <th scope="col">If it shows</th>
            <th scope="col">then probably</th>
            <th scope="col">chance</th>
          </tr>
        </thead>
        <tbody>
          {next.outcomes.slice(0, mostOutcomes).map(({ shows, means, probability }) => (
            <tr key={shows}>
              <th scope="row" className="figures">
                {shows}
              </th>
              <td>
                {means.slice(0, 2).join('; or ')}
                {means.length > 2 ? `; or ${means.length - 2} more` : ''}
              </td>
              <td className="figures">{percentWords(probability)}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <Control {...props} isCold={isCold} />
      {other === null ? null : (
        <ActButton look="quiet" onAct={() => onOther(other)}>
          This cannot be done: offer another
        </ActButton>
      )}
    </>
  );
}

/** The one way to it that the energy state allows. */
function Control(props: NextStepProps & { readonly next: NextStep; readonly isCold: boolean }) {
  const { build, next, isCold, onReading, onDrain, onStores } = props;
  const { energy } = build.safety;
  const { reading } = next;
  const isOwn = build.kit.readings.some(({ id }) => id === reading);
  if (energy.kind === 'live' && (isCold || energy.mustPull !== null)) {
    return <p>The plug comes first: F9. Until then this is advice only.</p>;
  }
  if (energy.kind === 'draining' && isCold) {
    return (
      <ActButton look="move" onAct={onDrain}>
        First prove every store empty
      </ActButton>
    );
  }
  if (reading === null) return null;
  if (isOwn) {
    return (
      <ActButton look="move" onAct={() => onReading(reading)}>
        Take this reading
      </ActButton>
    );
  }
  return <PlaceEntry key={reading} build={build} reading={reading} onStores={onStores} />;
}

/** Everything but a reading under voltage is done dead. */
function isColdStep({ kit }: Build, { condition, reading }: NextStep): boolean {
  return reading === null || kit.conditions.find(({ id }) => id === condition)?.supply === 'unplugged';
}

/** The name of an exchange of valves, as the search knows it. */
function actionId({ action }: NextStep): string | null {
  const found = /exchange (\S+) and (\S+)/.exec(action);
  return found === null ? null : `exchange ${found[1]} ${found[2]}`;
}
