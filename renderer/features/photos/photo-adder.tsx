import { useId, useRef, useState } from 'react';
import { useLink } from '../../bridge/link-context.ts';
import type { Told } from '../../bridge/link.ts';
import type { Build } from '../../bridge/use-build.ts';
import { ActButton } from '../../components/act-button.tsx';
import { Field } from '../../components/field.tsx';
import { ProblemList } from '../../components/problem-list.tsx';
import { shrinkPhoto } from './shrink-photo.ts';
import { useGivenFiles } from './use-given-files.ts';

interface PhotoAdderProps {
  readonly build: Build;
  /** The step that photos belong to; null for the build. */
  readonly about: string | null;
}

/** Photos by choosing, dropping or pasting; from the camera where the device has one for the page. */
export function PhotoAdder({ build, about }: PhotoAdderProps) {
  const { addPhoto, say, store } = useLink();
  const [caption, setCaption] = useState('');
  const [busy, setBusy] = useState(false);
  const [told, setTold] = useState<readonly Told[]>([]);
  const input = useRef<HTMLInputElement>(null);
  const camera = useRef<HTMLInputElement>(null);
  const hint = useId();
  const isReady = build.known && !busy;
  const take = async (files: readonly File[]): Promise<void> => {
    setBusy(true);
    setTold([]);
    let kept = 0;
    for (const file of files) {
      const base64 = await shrinkPhoto(file).catch(() => '');
      if (!(await addPhoto({ about, caption: caption.trim(), base64 }, 'hand'))) break;
      kept += 1;
    }
    setBusy(false);
    // What is wrong with a photo is told here, not at the head of the page.
    setTold(store.getState().problems);
    store.setState({ problems: [] });
    if (kept > 0) setCaption('');
    if (kept > 0) say(kept === 1 ? 'The photo is kept.' : `${kept} photos are kept.`);
  };
  useGivenFiles((files) => void take(files), isReady);
  const choose = (list: FileList | null): void => {
    const files = [...(list ?? [])];
    for (const each of [input.current, camera.current]) if (each !== null) each.value = '';
    if (files.length > 0) void take(files);
  };
  const chooser = { type: 'file', hidden: true, accept: 'image/jpeg,image/png,image/*' } as const;
  return (
    <div className="photo-adder">
      <Field label="What the photo shows" value={caption} onChange={setCaption} size="long" />
      <div className="photo-ways">
        <ActButton blocked={!isReady} onAct={() => input.current?.click()}>
          {busy ? 'One moment' : 'Add a photo'}
        </ActButton>
        {hasHandCamera() ? (
          <ActButton blocked={!isReady} onAct={() => camera.current?.click()}>
            Take a photo
          </ActButton>
        ) : null}
        <span id={hint} className="quiet">
          or drop it here, or paste it. Where and when it was taken is not kept, nor with which camera.
        </span>
      </div>
      <ProblemList problems={told} />
      <input
        {...chooser}
        ref={input}
        multiple
        aria-label="Photo file"
        onChange={({ target }) => choose(target.files)}
      />
      <input
        {...chooser}
        ref={camera}
        capture="environment"
        aria-label="Camera"
        onChange={({ target }) => choose(target.files)}
      />
    </div>
  );
}

/** A telephone or tablet: there, `capture` opens the camera itself. Elsewhere it would open a list of files again. */
function hasHandCamera(): boolean {
  return typeof matchMedia === 'function' && matchMedia('(pointer: coarse) and (hover: none)').matches;
}
