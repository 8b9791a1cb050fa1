import { useLink } from '../../bridge/link-context.ts';
import { saveFile } from '../../bridge/save-file.ts';
import type { Build } from '../../bridge/use-build.ts';
import { ActButton } from '../../components/act-button.tsx';
import { BuildStory } from '../../components/build-story.tsx';
import { Heading } from '../../components/heading.tsx';
import { readingRows } from '../../components/reading-rows.ts';
import { ReadingsTable } from '../../components/readings-table.tsx';

/** The report on the screen, and its two files. */
export function ReportPage({ build }: { readonly build: Build }) {
  const { blob, say } = useLink();
  const save = async (what: 'report' | 'record'): Promise<void> => {
    const file = await blob(what, { build: build.build.build });
    if (file === null) return;
    saveFile(file);
    say(`${file.name} is saved.`);
  };
  const taken = readingRows(build.build, build).filter(({ shown }) => shown !== null);
  return (
    <article className="wide">
      <p className="step-place">
        <span>{build.kit.maker}</span>
        <span>build report</span>
      </p>
      <Heading of="report">
        {build.kit.name}, revision {build.build.revision}
      </Heading>
      <div className="step-foot">
        <ActButton look="move" onAct={() => void save('report')}>
          Save the report (PDF)
        </ActButton>
        <ActButton onAct={() => void save('record')}>Save the record</ActButton>
      </div>
      <BuildStory build={build.build} kit={build.kit} />
      <h2>Readings</h2>
      <ReadingsTable rows={taken} />
      <p className="quiet">
        What was not tested is written as not tested. Local codes and licensed practice come before this
        report.
      </p>
    </article>
  );
}
