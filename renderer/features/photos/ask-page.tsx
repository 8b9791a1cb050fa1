import { useId, useState } from 'react';
import { useLink } from '../../bridge/link-context.ts';
import { saveFile } from '../../bridge/save-file.ts';
import type { Build } from '../../bridge/use-build.ts';
import { usePhotos } from '../../bridge/use-photos.ts';
import { ActButton } from '../../components/act-button.tsx';
import { Tick } from '../../components/choice.tsx';
import { Heading } from '../../components/heading.tsx';
import { PhotoFigure } from '../../components/photo-figure.tsx';
import { aboutTitle } from './about-title.ts';
import { PhotoAdder } from './photo-adder.tsx';

/** A question to the maker: the record so far, the question and photos, in one file. Nothing is sent from here. */
export function AskPage({ build, about }: { readonly build: Build; readonly about: string | null }) {
  const { blob, say } = useLink();
  const [text, setText] = useState('');
  const [left, setLeft] = useState<ReadonlySet<string>>(new Set());
  const field = useId();
  const photos = build.build.photos.filter((photo) => photo.about === about);
  const files = [...new Set(photos.map(({ file }) => file))];
  const addresses = usePhotos(build.build.build, files);
  const save = async (): Promise<void> => {
    const chosen = files.filter((file) => !left.has(file));
    const question = { about, text: text.trim(), photos: chosen };
    const file = await blob('record', { build: build.build.build, photos: chosen, question });
    if (file === null) return;
    saveFile(file);
    say(`${file.name} is saved. Send it to ${build.kit.maker}.`);
  };
  const turn = (file: string, isIn: boolean): void =>
    setLeft((held) => new Set(isIn ? [...held].filter((each) => each !== file) : [...held, file]));
  return (
    <article className="step">
      <header className="step-head">
        <p className="step-place">
          <span>to {build.kit.maker}</span>
        </p>
        <Heading of="ask">Ask the maker</Heading>
        <p>
          One file holds the record so far, your question and the photos ticked. You send it yourself; it
          opens at its step. If the amplifier is plugged in, pull the plug before you write.
        </p>
      </header>
      <div className="step-main">
        <div className="field field-long">
          <label htmlFor={field}>Your question about “{aboutTitle(build, about)}”</label>
          <textarea id={field} rows={5} value={text} onChange={({ target }) => setText(target.value)} />
        </div>
        <PhotoAdder build={build} about={about} />
        <ul className="album" aria-label="Photos of this step">
          {photos.map(({ file, text: caption, at }) => (
            <li key={`${at} ${file}`}>
              <PhotoFigure
                address={addresses[file] ?? null}
                title={caption === '' ? 'Photo of this step' : caption}
                caption={
                  <Tick checked={!left.has(file)} onChange={(isIn) => turn(file, isIn)}>
                    {caption === '' ? 'goes along' : `goes along: ${caption}`}
                  </Tick>
                }
              />
            </li>
          ))}
        </ul>
        <div className="step-foot">
          <ActButton look="move" blocked={text.trim() === ''} onAct={() => void save()}>
            Save the question (one file)
          </ActButton>
        </div>
      </div>
    </article>
  );
}
