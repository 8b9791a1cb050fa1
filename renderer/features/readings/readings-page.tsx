import type { Build } from '../../bridge/use-build.ts';
import { Heading } from '../../components/heading.tsx';
import { readingRows } from '../../components/reading-rows.ts';
import { ReadingsTable } from '../../components/readings-table.tsx';

/** All readings of the kit; a band is shown only once its number was typed. */
export function ReadingsPage({ build }: { readonly build: Build }) {
  const rows = readingRows(build.build, build);
  const taken = rows.filter(({ shown }) => shown !== null).length;
  return (
    <article className="wide">
      <Heading of="readings">Readings</Heading>
      <p className="quiet">
        {taken} of {rows.length} taken.
      </p>
      <ReadingsTable rows={rows} />
    </article>
  );
}
