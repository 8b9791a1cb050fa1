import type { Build } from '../../bridge/use-build.ts';
import { aboutTitle } from './about-title.ts';
import { PhotoAdder } from './photo-adder.tsx';
import { PhotoAlbum } from './photo-album.tsx';

/** Every photo of the build, and a way to add one to the step to do now. */
export function BuildPhotos({ build, about }: { readonly build: Build; readonly about: string | null }) {
  return (
    <>
      <h2>Photos</h2>
      <PhotoAdder build={build} about={about} />
      <PhotoAlbum build={build} photos={build.build.photos} titleOf={(id) => aboutTitle(build, id)} />
    </>
  );
}
