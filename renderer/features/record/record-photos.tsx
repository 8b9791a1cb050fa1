import type { RecordView } from '../../../shared-core/contract/calls.ts';
import type { RecordPhoto, RecordQuestion } from '../../../shared-core/journal/build-record.ts';
import { PhotoFigure } from '../../components/photo-figure.tsx';
import { dateWords } from '../../components/time-words.ts';

interface RecordPhotosProps {
  readonly record: RecordView;
  readonly addresses: Readonly<Record<string, string>>;
}

/** The address of a photo that is part of a record: the host has looked at it before. */
export function addressOf({ file, base64 }: RecordPhoto): string {
  return `data:image/${file.endsWith('.png') ? 'png' : 'jpeg'};base64,${base64}`;
}

/** Photos of a record that do not belong to its question. */
export function RecordPhotos({ record, addresses }: RecordPhotosProps) {
  const asked = new Set(record.question?.photos);
  const files = record.photos.map(({ file }) => file).filter((file) => !asked.has(file));
  if (files.length === 0) return null;
  return (
    <section>
      <h2>Photos</h2>
      <Album record={record} addresses={addresses} files={files} />
    </section>
  );
}

/** What the builder asks, at the step it is about. */
export function RecordQuestionView(props: RecordPhotosProps & { readonly question: RecordQuestion }) {
  const { record, addresses, question } = props;
  const { steps, chapters } = record.kit;
  const step = steps.find(({ id }) => id === question.about);
  const chapter = chapters.find(({ id }) => id === step?.chapter)?.title;
  const place = step === undefined ? -1 : steps.indexOf(step);
  return (
    <section aria-label="Question" className="question">
      <h2>A question to the maker</h2>
      <p className="step-place">
        {place < 0 ? null : (
          <span className="figures">
            {place + 1} / {steps.length}
          </span>
        )}
        {chapter === undefined ? null : <span>{chapter}</span>}
        <span>{titleOf(record, question.about)}</span>
      </p>
      <p className="large question-text">{question.text}</p>
      <Album record={record} addresses={addresses} files={question.photos} />
    </section>
  );
}

function Album({ record, addresses, files }: RecordPhotosProps & { readonly files: readonly string[] }) {
  const taken = record.build.photos;
  return (
    <ul className="album">
      {files
        .filter((file) => addresses[file] !== undefined)
        .map((file) => {
          const own = taken.find((each) => each.file === file);
          const where = titleOf(record, own?.about ?? null);
          const text = own?.text ?? '';
          return (
            <li key={file}>
              <PhotoFigure
                address={addresses[file] ?? null}
                title={text === '' ? `Photo at “${where}”` : text}
                caption={
                  <>
                    {text === '' ? null : <span>{text}</span>}
                    <span className="quiet">
                      {where}
                      {own === undefined ? '' : ` · ${dateWords(own.at)}`}
                    </span>
                  </>
                }
              />
            </li>
          );
        })}
    </ul>
  );
}

function titleOf({ kit }: RecordView, about: string | null): string {
  if (about === null) return 'The build';
  return [...kit.steps, ...kit.readings].find(({ id }) => id === about)?.title ?? about;
}
