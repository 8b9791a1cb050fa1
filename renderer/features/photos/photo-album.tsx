import type { PhotoRecord } from '../../../shared-core/journal/build-state.ts';
import { usePhotos } from '../../bridge/use-photos.ts';
import type { Build } from '../../bridge/use-build.ts';
import { PhotoFigure } from '../../components/photo-figure.tsx';
import { dateWords } from '../../components/time-words.ts';

interface PhotoAlbumProps {
  readonly build: Build;
  readonly photos: readonly PhotoRecord[];
  readonly titleOf: (about: string | null) => string;
}

/** Photos of a build, the newest first. */
export function PhotoAlbum({ build, photos, titleOf }: PhotoAlbumProps) {
  const addresses = usePhotos(
    build.build.build,
    photos.map(({ file }) => file),
  );
  if (photos.length === 0) return null;
  return (
    <ul className="album" aria-label="Photos">
      {photos.toReversed().map(({ file, text, about, at }) => (
        <li key={`${at} ${file}`}>
          <PhotoFigure
            address={addresses[file] ?? null}
            title={text === '' ? `Photo at “${titleOf(about)}”` : text}
            caption={
              <>
                {text === '' ? null : <span>{text}</span>}
                <span className="quiet">
                  {titleOf(about)} · {dateWords(at)}
                </span>
              </>
            }
          />
        </li>
      ))}
    </ul>
  );
}
