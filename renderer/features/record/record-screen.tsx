import { useState } from 'react';
import type { RecordView } from '../../../shared-core/contract/calls.ts';
import { useLink } from '../../bridge/link-context.ts';
import { saveFile } from '../../bridge/save-file.ts';
import { usePages } from '../../bridge/use-pages.ts';
import { ActButton } from '../../components/act-button.tsx';
import { BuildStory } from '../../components/build-story.tsx';
import { CautionPanel } from '../../components/caution-panel.tsx';
import { Heading } from '../../components/heading.tsx';
import { readingRows } from '../../components/reading-rows.ts';
import { PaperPages } from '../../components/paper-pages.tsx';
import { ReadingsTable } from '../../components/readings-table.tsx';
import { WholeBuild } from '../../components/whole-build.tsx';
import { addressOf, RecordPhotos, RecordQuestionView } from './record-photos.tsx';

interface RecordScreenProps {
  readonly record: RecordView;
  readonly text: string;
  readonly onBack: () => void;
  /** The amplifier of this record stands on the bench again. */
  readonly onService: () => void;
}

/** A record to look at: nothing can be written here. */
export function RecordScreen({ record, text, onBack, onService }: RecordScreenProps) {
  const { blob } = useLink();
  const { build, kit, photos, question, flaws, together } = record;
  const [isShown, setShown] = useState(false);
  const pages = usePages(isShown ? { kind: 'record-report', text } : null, 0);
  const addresses = Object.fromEntries(photos.map((photo) => [photo.file, addressOf(photo)]));
  return (
    <main className="page">
      <p className="step-place">
        <span>a record, to look at</span>
      </p>
      <Heading of={`record ${build.build}`}>
        {kit.name}, revision {build.revision}
      </Heading>
      {question === undefined ? null : (
        <RecordQuestionView question={question} record={record} addresses={addresses} />
      )}
      {flaws.length === 0 ? null : (
        <CautionPanel level="notice">
          <p>This record is not whole:</p>
          <ul>
            {flaws.map((flaw) => (
              <li key={flaw}>{flaw}</li>
            ))}
          </ul>
        </CautionPanel>
      )}
      <div className="step-foot">
        <ActButton
          look="move"
          onAct={() =>
            void blob('record-report', { text }).then((file) => (file === null ? undefined : saveFile(file)))
          }
        >
          Save its report (PDF)
        </ActButton>
        <ActButton pressed={isShown} onAct={() => setShown(!isShown)}>
          Show its report
        </ActButton>
        {pages === null || !isShown ? null : <ActButton onAct={() => window.print()}>Print</ActButton>}
        <ActButton onAct={onService}>Service this amplifier</ActButton>
        <ActButton look="quiet" onAct={onBack}>
          Back to the shelf
        </ActButton>
      </div>
      {isShown && pages !== null ? (
        <PaperPages pages={pages} title="Build report" photos={addresses} />
      ) : null}
      <BuildStory build={build} kit={kit} />
      <RecordPhotos record={record} addresses={addresses} />
      <h2>Readings</h2>
      {together === undefined ? null : <WholeBuild judgement={together} />}
      <ReadingsTable rows={readingRows(build, null)} />
    </main>
  );
}
