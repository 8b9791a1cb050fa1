import { useState } from 'react';
import type { Paper } from '../../../shared-core/contract/calls.ts';
import { useLink } from '../../bridge/link-context.ts';
import { saveFile } from '../../bridge/save-file.ts';
import type { Build } from '../../bridge/use-build.ts';
import { usePages } from '../../bridge/use-pages.ts';
import { usePhotos } from '../../bridge/use-photos.ts';
import { ActButton } from '../../components/act-button.tsx';
import { BuildStory } from '../../components/build-story.tsx';
import { Choice } from '../../components/choice.tsx';
import { Heading } from '../../components/heading.tsx';
import { PaperPages } from '../../components/paper-pages.tsx';
import { readingRows } from '../../components/reading-rows.ts';
import { ReadingsTable } from '../../components/readings-table.tsx';
import { PaperChoice } from './paper-choice.tsx';
import type { Chosen } from './paper-choice.tsx';

interface ReportPageProps {
  readonly build: Build;
  readonly onAsk: () => void;
}

const papers = ['report', 'bench-card'] as const;
type PaperKind = (typeof papers)[number];
const paperWords = { report: 'Build report', 'bench-card': 'Bench card' } as const;

/** Report and bench card as they are printed, what goes into them, and their files. */
export function ReportPage({ build, onAsk }: ReportPageProps) {
  const { blob, say } = useLink();
  const { build: id, notes, photos, seq } = build.build;
  const [kind, setKind] = useState<PaperKind>('report');
  const [without, setWithout] = useState<readonly number[]>([]);
  const [along, setAlong] = useState<readonly string[]>([]);
  const chosen: Chosen = {
    notes: notes.map((_, place) => place).filter((place) => !without.includes(place)),
    photos: along,
  };
  const choose = (next: Chosen): void => {
    setWithout(notes.map((_, place) => place).filter((place) => !next.notes.includes(place)));
    setAlong(next.photos);
  };
  const paper: Paper =
    kind === 'report' ? { kind: 'report', build: id, ...chosen } : { kind: 'bench-card', build: id };
  const pages = usePages(paper, kind === 'report' ? 0 : seq);
  const addresses = usePhotos(
    id,
    photos.map(({ file }) => file),
  );
  // A drawn page tells nothing to those who cannot see it: the same stands below it in words.
  const taken = readingRows(build.build, build).filter(({ shown }) => shown !== null);
  const save = async (what: PaperKind | 'record'): Promise<void> => {
    const given = { build: id };
    const file =
      what === 'report'
        ? await blob('report', { ...given, ...chosen })
        : what === 'record'
          ? await blob('record', { ...given, photos: along })
          : await blob('bench-card', given);
    if (file === null) return;
    saveFile(file);
    say(`${file.name} is saved.`);
  };
  return (
    <article className="wide">
      <p className="step-place">
        <span>{build.kit.maker}</span>
        <span>to print and to send</span>
      </p>
      <Heading of="report">
        {build.kit.name}, revision {build.build.revision}
      </Heading>
      <Choice label="Paper" value={kind} options={papers} words={paperWords} onChange={setKind} />
      {kind === 'report' ? (
        <PaperChoice build={build} chosen={chosen} onChange={choose} addresses={addresses} />
      ) : (
        <p>Where everything is measured, with blanks to write in: one page to lie beside the chassis.</p>
      )}
      <div className="step-foot">
        <ActButton look="move" onAct={() => void save(kind)}>
          {kind === 'report' ? 'Save the report (PDF)' : 'Save the bench card (PDF)'}
        </ActButton>
        <ActButton blocked={pages === null} onAct={() => window.print()}>
          Print
        </ActButton>
        <ActButton onAct={() => void save('record')}>Save the record</ActButton>
        <ActButton look="quiet" onAct={onAsk}>
          Ask the maker
        </ActButton>
      </div>
      {pages === null ? (
        <p className="large">The pages are being drawn.</p>
      ) : (
        <PaperPages pages={pages} title={paperWords[kind]} photos={addresses} />
      )}
      <details className="paper-choice">
        <summary>What happened and the readings, in words</summary>
        <BuildStory build={build.build} kit={build.kit} />
        <ReadingsTable rows={taken} />
      </details>
      <p className="quiet">
        What was not tested is written as not tested. Local codes and licensed practice come before this
        report.
      </p>
    </article>
  );
}
