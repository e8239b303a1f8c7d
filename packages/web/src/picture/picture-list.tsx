/** The pictures that were made, and the frames that were kept: what there is to deliver. */
import { useSignal } from '@preact/signals';
import { enginePaths, type LibraryFrame, type Picture, type StoreName } from '@tepal/formats';
import { useEffect } from 'preact/hooks';
import { addressOf } from '../app/address.ts';
import { askedFrom, asking, engineOf, type Asked } from '../engine/engine.ts';
import { counted } from '../words/amounts.ts';

export function PictureList({ store }: { store: StoreName }) {
  const pictures = useSignal<Asked<readonly Picture[]>>(asking);
  const kept = useSignal<readonly LibraryFrame[]>([]);
  useEffect(() => {
    void engineOf(store)
      .pictures()
      .then((answer) => (pictures.value = askedFrom(answer)));
    void engineOf(store)
      .frames()
      .then((answer) => {
        if (answer.ok) kept.value = answer.value.frames.filter(({ decision }) => decision === 'keep');
      });
  }, [store]);

  if (pictures.value.at === 'asking') return <h1>Looking for your pictures.</h1>;
  if (pictures.value.at === 'fault') {
    return (
      <>
        <h1>The pictures cannot be shown.</h1>
        <p class="told" role="alert">
          {pictures.value.message}
        </p>
      </>
    );
  }
  const made = pictures.value.value;
  const frames = kept.value;
  return (
    <>
      <h1>{answerWords(made.length, frames.length)}</h1>
      {made.length + frames.length === 0 && (
        <div class="buttons">
          <a class="button first" href={addressOf(store, 'frames')}>
            Choose a frame
          </a>
        </div>
      )}
      {made.length > 0 && (
        <section aria-label="Pictures made">
          <h2>Made</h2>
          <ul class="thumbs">
            {made.map((picture) => (
              <li key={picture.id}>
                <a href={addressOf(store, 'picture', { picture: picture.id })}>
                  <img alt="" loading="lazy" src={enginePaths.picturePreview(store, picture.id, 640)} />
                  <span>{picture.title}</span>
                  <span class="worth">
                    {picture.kind === 'blend'
                      ? `blended from ${counted(picture.frameIds.length, 'frame')}`
                      : 'one frame'}
                  </span>
                </a>
              </li>
            ))}
          </ul>
        </section>
      )}
      {frames.length > 0 && (
        <section aria-label="Frames kept">
          <h2>Kept</h2>
          <ul class="thumbs">
            {frames.map((frame) => (
              <li key={frame.id}>
                <a href={addressOf(store, 'picture', { frame: frame.id })}>
                  <img alt="" loading="lazy" src={enginePaths.preview(store, frame.id, 640)} />
                  <span>{frame.file.split('/').at(-1)}</span>
                  <span class="worth">{frame.words}</span>
                </a>
              </li>
            ))}
          </ul>
        </section>
      )}
    </>
  );
}

function answerWords(made: number, kept: number): string {
  if (made + kept === 0) return 'No picture yet: keep a frame, or blend a focus series, on the Frames page.';
  const parts = [
    made > 0 ? `${counted(made, 'picture')} made` : '',
    kept > 0 ? `${counted(kept, 'frame')} kept` : '',
  ].filter(Boolean);
  return `${parts.join(' and ')}: choose one to deliver.`;
}
