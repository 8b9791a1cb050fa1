import type { ConditionFacts } from '../../../shared-core/safety/facts.ts';
import type { Refusal } from '../../../shared-core/safety/refusal.ts';
import { socketDifferences } from '../../../shared-core/safety/sockets.ts';
import { ActButton } from '../../components/act-button.tsx';
import { CautionPanel } from '../../components/caution-panel.tsx';
import { Checklist } from '../../components/checklist.tsx';
import type { ChecklistItem } from '../../components/checklist.tsx';
import type { Pressed } from '../../components/keys.ts';
import { RefusalList } from '../../components/refusal-list.tsx';
import { plugWords, socketWords } from './condition-words.ts';
import { InspectList } from './inspect-list.tsx';
import { MoveOn } from './move-on.tsx';
import { RefusalHelp } from './refusal-help.tsx';
import { SocketChanges } from './socket-changes.tsx';
import { StageView } from './stage-view.tsx';
import { StepFigures } from './step-figures.tsx';
import type { StepPageProps } from './step-props.ts';

interface PlugInProps extends StepPageProps {
  readonly condition: string;
  /** The lamp stage repeated after work inside belongs to no step. */
  readonly isRepeat?: boolean;
}

/** Refusals that the checklist itself takes away; the others stand in the way before it. */
const onTheSpot = new Set([
  'safety/clip-fitted',
  'safety/black-lead-first',
  'safety/caution-not-acknowledged',
  'safety/red-lead',
  'safety/mains-switch-not-off',
]);

/** Everything that is confirmed on the spot, one by one; then, and only then, the plug. */
export function PlugIn(props: PlugInProps) {
  const { build, step, condition, isRepeat = false } = props;
  const facts = build.facts.conditions.find(({ id }) => id === condition);
  const event = { kind: 'plugged-in', condition, step: isRepeat ? null : step.id, by: 'hand' } as const;
  if (build.safety.energy.kind === 'live') return <AlreadyLive {...props} />;
  if (facts === undefined) return null;
  const refused = build.refusalsOf(event);
  // Sockets are put right here, but only while a hand may be inside; else they are one thing more in the way.
  const isDead = build.safety.energy.kind === 'dead';
  const differences = isDead ? socketDifferences(facts, build.safety, build.facts) : [];
  const inTheWay = refused.filter(
    ({ code }) => !onTheSpot.has(code) && !(isDead && code === 'safety/valves-differ'),
  );
  const valves = build.kit.parts.filter(({ kind }) => kind === 'valve').map(({ id }) => id);
  const sockets = socketWords(facts, valves);
  const items = inTheWay.length + differences.length > 0 ? [] : confirmations(props, facts);
  return (
    <>
      <div className="step-main">
        {inTheWay.length > 0 ? (
          <section className="in-the-way" aria-label="Before the plug goes in">
            <h2>Before the plug goes in</h2>
            <RefusalList
              refusals={inTheWay}
              most={8}
              help={(refusal: Refusal) => <RefusalHelp refusal={refusal} {...props} />}
            />
          </section>
        ) : (
          <>
            {sockets === null ? null : <p className="large">{sockets}</p>}
            <SocketChanges build={build} differences={differences} />
            <Checklist label="Confirm one by one" items={items} blocked={!build.known} />
          </>
        )}
        {isRepeat ? null : <InspectList {...props} />}
        {build.safety.energy.kind === 'draining' ? (
          <button type="button" className="act act-quiet" onClick={props.onNext}>
            Back to proving every store empty
          </button>
        ) : null}
        <NoInsulationTester {...props} facts={facts} />
        {items.length > 0 && items.every(({ isDone }) => isDone) ? (
          <GoLive {...props} facts={facts} refused={refused} onLive={(by) => build.act({ ...event, by })} />
        ) : null}
      </div>
      <StepFigures build={build} step={step} drawn={null} />
    </>
  );
}

/** What has to be confirmed, in the order of doing it. */
function confirmations({ build }: PlugInProps, { cautions, supply }: ConditionFacts): ChecklistItem[] {
  const { safety, act } = build;
  const clips = Object.keys(safety.clips).map((store) => ({
    id: `clip ${store}`,
    text: `Take the discharge clip off ${store}. The black lead stays.`,
    label: 'Taken off',
    isDone: false,
    onAct: (by: Pressed) => void act({ kind: 'clip-removed', store, by }),
  }));
  const blackLead: ChecklistItem = {
    id: 'black lead',
    text:
      supply === 'insulation-tester'
        ? 'The black lead of the tester is clipped to the chassis.'
        : 'The black lead is clipped to the signal earth and stays there.',
    label: 'Clipped',
    isDone: safety.blackLeadClipped,
    onAct: (by) => void act({ kind: 'black-lead-clipped', by }),
  };
  const redLead: ChecklistItem = {
    id: 'red lead',
    text: 'Look at the meter: the red lead is in the volts socket, not in an amps socket.',
    label: 'In the volts socket',
    isDone: safety.redLeadInVolts,
    onAct: (by) => void act({ kind: 'red-lead-in-volts', by }),
  };
  const mainsSwitch: ChecklistItem = {
    id: 'mains switch',
    text: 'The mains switch of the amplifier is at off.',
    label: 'Off',
    isDone: safety.mainsSwitchOff,
    onAct: (by) => void act({ kind: 'mains-switch-off', by }),
  };
  const read = cautions.map(({ id, level, text }) => ({
    id,
    text,
    content: <CautionPanel level={level}>{text}</CautionPanel>,
    label: 'Understood',
    isDone: safety.acknowledged[id] !== undefined,
    onAct: (by: Pressed) => void act({ kind: 'caution-acknowledged', caution: id, text, by }),
  }));
  // The tester has leads and a button of its own, and measures with the mains switch on: the step says how.
  if (supply === 'insulation-tester') return [...clips, blackLead, ...read];
  return [...clips, blackLead, ...read, redLead, mainsSwitch];
}

interface GoLiveProps extends PlugInProps {
  readonly facts: ConditionFacts;
  readonly refused: readonly Refusal[];
  readonly onLive: (by: Pressed) => Promise<boolean>;
}

/** The last press: from here on the bar says LIVE, and then the plug goes in. */
function GoLive({ build, facts, refused, onLive, onNext }: GoLiveProps) {
  return (
    <div className="go-live">
      <StageView build={build} facts={facts} />
      <p className="large">Everything is confirmed. From the next press on, the amplifier counts as live.</p>
      <ActButton
        look="move"
        hotkey="Enter"
        takesFocus
        blocked={refused.length > 0 || !build.known}
        onAct={(by) => void onLive(by).then((isLive) => (isLive ? onNext() : undefined))}
      >
        Live now: {facts.title}
      </ActButton>
      <RefusalList refusals={refused} />
    </div>
  );
}

function AlreadyLive(props: PlugInProps) {
  const { build, condition } = props;
  const { energy } = build.safety;
  const facts = build.facts.conditions.find(({ id }) => id === condition);
  if (energy.kind !== 'live' || energy.condition !== condition) {
    return (
      <div className="step-main">
        <RefusalList refusals={build.refusalsOf({ kind: 'plugged-in', condition, step: null, by: 'hand' })} />
      </div>
    );
  }
  return (
    <>
      <div className="step-main">
        <p className="large">{plugWords(facts?.supply ?? 'mains')}</p>
        {facts === undefined ? null : <StageView build={build} facts={facts} />}
        <InspectList {...props} />
        <MoveOn {...props} words="It is on, and nothing is wrong" />
      </div>
      <StepFigures build={build} step={props.step} drawn={null} />
    </>
  );
}

function NoInsulationTester({ build, facts, onNext }: PlugInProps & { readonly facts: ConditionFacts }) {
  if (facts.supply !== 'insulation-tester') return null;
  if (build.safety.gate.insulationNotTested) return <p>Recorded: insulation NOT tested.</p>;
  return (
    <p>
      <ActButton
        look="plain"
        blocked={!build.known}
        onAct={(by) =>
          void build
            .act({ kind: 'insulation-not-tested', by })
            .then((isDone) => (isDone ? onNext() : undefined))
        }
      >
        No tester at hand: record “insulation NOT tested”
      </ActButton>
    </p>
  );
}
