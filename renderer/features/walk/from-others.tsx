import type { Together } from '../../../shared-core/bands/see-together.ts';
import type { Reading } from '../../../shared-core/kit/kit.ts';
import { formatQuantity } from '../../../shared-core/units/format-quantity.ts';
import type { Unit } from '../../../shared-core/units/unit.ts';
import { WholeBuild } from '../../components/whole-build.tsx';

interface FromOthersProps {
  readonly reading: Reading;
  readonly unit: Unit;
  /** Null until it is computed. */
  readonly together: Together | null;
}

/**
 * Under a verdict, once computed: what the good readings of other conditions make one expect here, and a warning
 * where all readings together are unlikely.
 */
export function FromOthers({ reading, unit, together }: FromOthersProps) {
  if (together === null) return null;
  const own = together.fromOthers[reading.id];
  const { judgement } = together;
  return (
    <>
      {own === undefined ? null : (
        <p>
          {`Your good readings in other conditions make one expect ${formatQuantity(own.low, unit, 3)} to ${formatQuantity(own.high, unit, 3)} here.`}
        </p>
      )}
      {judgement === null || judgement.healthy ? null : <WholeBuild judgement={judgement} />}
    </>
  );
}
