import type { BuildJudgement } from '../../shared-core/bands/judge-build.ts';
import { CautionPanel } from './caution-panel.tsx';

/** All readings taken together, as advice: it blocks nothing. */
export function WholeBuild({ judgement }: { readonly judgement: BuildJudgement }) {
  const { healthy, words } = judgement;
  if (healthy) return <p className="whole-build">{words}</p>;
  return (
    <CautionPanel level="notice">
      <p>{words}</p>
    </CautionPanel>
  );
}
