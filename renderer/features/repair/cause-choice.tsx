import type { CauseFound } from '../../../shared-core/safety/events.ts';
import { Choice } from '../../components/choice.tsx';

/** None of those that were shown. */
const another = 'something else';

interface CauseChoiceProps {
  readonly faults: readonly CauseFound[];
  readonly found: CauseFound | null;
  readonly onChange: (found: CauseFound | null) => void;
}

/** Which of the causes it turned out to be: kept in the journal, for the builder and the maker. */
export function CauseChoice({ faults, found, onChange }: CauseChoiceProps) {
  return (
    <Choice
      label="Cause found"
      value={found?.words ?? another}
      options={[...faults.map(({ words }) => words), another]}
      onChange={(words) => onChange(faults.find((each) => each.words === words) ?? null)}
    />
  );
}
