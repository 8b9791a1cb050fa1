import type { ReactNode } from 'react';
import type { Build } from '../../bridge/use-build.ts';
import { useTogether } from '../../bridge/use-together.ts';
import { Heading } from '../../components/heading.tsx';
import { besideOthers, readingRows } from '../../components/reading-rows.ts';
import { ReadingsTable } from '../../components/readings-table.tsx';
import { WholeBuild } from '../../components/whole-build.tsx';

interface ReadingsPageProps {
  readonly build: Build;
  /** What may explain what does not fit, or does not go together. */
  readonly causes?: (isOdd: boolean) => ReactNode;
}

/** All readings of the kit, and what they say taken together; a band is shown only once its number was typed. */
export function ReadingsPage({ build, causes }: ReadingsPageProps) {
  const rows = readingRows(build.build, build);
  const { together, isComputing } = useTogether();
  const taken = rows.filter(({ shown }) => shown !== null).length;
  return (
    <article className="wide">
      <Heading of="readings">Readings</Heading>
      <p className="quiet">
        {taken} of {rows.length} taken.
        {isComputing && taken > 0 ? ' Seeing them together …' : ''}
      </p>
      {build.build.dayOne === undefined ? null : (
        <p className="quiet">What was read on day one stands beside each number once yours is in.</p>
      )}
      {together?.judgement ? <WholeBuild judgement={together.judgement} /> : null}
      {causes?.(together?.judgement?.healthy === false)}
      <ReadingsTable rows={rows.map((row) => besideOthers(row, together?.fromOthers ?? {}))} />
    </article>
  );
}
