import type { KitDifference } from '../../../shared-core/journal/kit-difference.ts';
import type { Build } from '../../bridge/use-build.ts';
import { ActButton } from '../../components/act-button.tsx';
import { RefusalList } from '../../components/refusal-list.tsx';

interface KitChangeProps {
  readonly build: Build;
  readonly change: KitDifference;
}

/** A revision or erratum found beside the build: what it changes, what is done again, and the one press that takes it. */
export function KitChange({ build, change }: KitChangeProps) {
  const { revision, kitHash, reopenedSteps, takenBack } = change;
  const refused = build.refusalsOf({
    ...{ kind: 'kit-changed', by: 'hand', revision, kitHash, reopenedSteps, changedReadings: takenBack },
  });
  const stepTitle = (id: string): string => build.facts.steps.find((step) => step.id === id)?.title ?? id;
  const readingTitle = (id: string): string =>
    build.facts.readings.find((each) => each.id === id)?.title ?? id;
  return (
    <details className="more">
      <summary>The kit has changed: revision {revision}. What changes, and taking it</summary>
      <dl>
        <Row name="Parts" items={change.parts} />
        <Row name="Leads" items={change.leads} />
        <Row name="Conditions" items={change.conditions} />
        <Row name="Readings" items={change.readings.map(readingTitle)} />
        <Row name="Steps" items={change.steps.map(stepTitle)} />
        <Row name="Steps to do again" items={reopenedSteps.map(stepTitle)} />
        <Row name="Readings to take again" items={takenBack.map(readingTitle)} />
      </dl>
      <p>
        Until you take it, this build goes on with the kit as it was.
        {build.safety.everPluggedIn ? ' Once taken, every store is proven empty again.' : ''}
      </p>
      <RefusalList refusals={refused} />
      <ActButton
        look="plain"
        blocked={refused.length > 0 || !build.known}
        onAct={(by) => void build.act({ kind: 'accept-kit', kitHash, by })}
      >
        Take revision {revision} for this build
      </ActButton>
    </details>
  );
}

function Row({ name, items }: { readonly name: string; readonly items: readonly string[] }) {
  return (
    <>
      <dt>{name}</dt>
      <dd>{items.length === 0 ? 'none' : items.join(' · ')}</dd>
    </>
  );
}
