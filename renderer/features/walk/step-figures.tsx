import { useMemo } from 'react';
import { chassisScene } from '../../../shared-core/drawing/chassis-scene.ts';
import type { Step } from '../../../shared-core/kit/kit.ts';
import { usePicture } from '../../bridge/use-blob.ts';
import type { Build } from '../../bridge/use-build.ts';
import { FigureView } from '../../components/figure-view.tsx';

interface StepFiguresProps {
  readonly build: Build;
  readonly step: Step;
  /** What to show on the chassis; null leaves the chassis out. */
  readonly drawn: { readonly parts: readonly string[]; readonly leads: readonly string[] } | null;
}

/** The kit's picture and the chassis with what the step touches. */
export function StepFigures({ build, step, drawn }: StepFiguresProps) {
  const hasChassis = drawn !== null && drawn.parts.length + drawn.leads.length > 0;
  if (step.picture === null && !hasChassis) return null;
  return (
    <div className="step-figures">
      {drawn !== null && hasChassis ? <ChassisFigure build={build} drawn={drawn} /> : null}
      <KitPicture build={build} step={step} />
    </div>
  );
}

/** The step's own picture. */
export function KitPicture({ build, step }: { readonly build: Build; readonly step: Step }) {
  const address = usePicture(build.build.build, step.picture);
  if (step.picture === null) return null;
  const name = (step.picture.split('/').at(-1) ?? '').replace(/\.\w+$/, '').replaceAll('-', ' ');
  return (
    <figure>{address === null ? <div className="picture-wait" /> : <img src={address} alt={name} />}</figure>
  );
}

function ChassisFigure({
  build,
  drawn,
}: {
  readonly build: Build;
  readonly drawn: NonNullable<StepFiguresProps['drawn']>;
}) {
  const { kit, facts } = build;
  const doneSteps = Object.entries(build.build.steps)
    .filter(([, { status }]) => status === 'done' || status === 'declared')
    .map(([id]) => id)
    .join(' ');
  const scene = useMemo(() => {
    const done = new Set(doneSteps.split(' '));
    const steps = kit.chapters.flatMap((chapter) => chapter.steps).filter(({ id }) => done.has(id));
    const built = steps.filter(({ action }) => action.kind === 'assemble');
    return chassisScene(
      kit,
      { ...drawn, places: [] },
      { parts: built.flatMap((step) => step.parts), leads: built.flatMap((step) => step.leads) },
    );
    // The kit is the same object only within one view; its hash says when it really changed.
    // oxlint-disable-next-line react/exhaustive-deps
  }, [facts.kitHash, drawn.parts.join(), drawn.leads.join(), doneSteps]);
  return <FigureView scene={scene} caption="Chassis from below" typeScale={1.4} />;
}
