import type { Reading } from '../../../shared-core/kit/kit.ts';
import { formatQuantity } from '../../../shared-core/units/format-quantity.ts';
import type { Unit } from '../../../shared-core/units/unit.ts';
import { useTogether } from '../../bridge/use-together.ts';
import { WholeBuild } from '../../components/whole-build.tsx';

interface FromOthersProps {
  readonly reading: Reading;
  readonly unit: Unit;
}

/**
 * Under a verdict, once computed: what the good readings of other conditions make one expect here, what this one
 * moved there, and a warning where all readings together are unlikely.
 */
export function FromOthers({ reading, unit }: FromOthersProps) {
  const { together } = useTogether();
  if (together === null) return null;
  const own = together.fromOthers[reading.id];
  const { judgement, moved } = together;
  return (
    <>
      {own === undefined ? null : (
        <p>
          {`Your good readings in other conditions make one expect ${formatQuantity(own.low, unit, 3)} to ${formatQuantity(own.high, unit, 3)} here.`}
        </p>
      )}
      {moved.length === 0 ? null : (
        <ul className="moved">
          {moved.map((sentence) => (
            <li key={sentence}>{sentence}</li>
          ))}
        </ul>
      )}
      {judgement === null || judgement.healthy ? null : <WholeBuild judgement={judgement} />}
    </>
  );
}
