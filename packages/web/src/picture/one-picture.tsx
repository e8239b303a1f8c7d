/** One picture in view, whole and at 100 %, before and after, with what was done to it and the way out of the house. */
import { useSignal } from '@preact/signals';
import { enginePaths, type LibraryFrame, type Picture, type StoreName } from '@tepal/formats';
import { useEffect } from 'preact/hooks';
import { addressOf } from '../app/address.ts';
import { engineOf } from '../engine/engine.ts';
import { counted } from '../words/amounts.ts';
import { DeliverForm } from './deliver-form.tsx';
import { Stand } from './stand.tsx';

export function OnePicture({ store, id }: { store: StoreName; id: string }) {
  const picture = useSignal<Picture | null>(null);
  const fault = useSignal<string | null>(null);
  useEffect(() => {
    void engineOf(store)
      .pictures()
      .then((answer) => {
        if (!answer.ok) fault.value = answer.fault.message;
        else {
          picture.value = answer.value.find((one) => one.id === id) ?? null;
          if (picture.value === null) fault.value = 'It may have been made from another folder.';
        }
      });
  }, [id]);
  if (picture.value === null) return <NotHere fault={fault.value} store={store} />;
  const { title, widthPx, heightPx, gaps, frameIds, done, kind } = picture.value;
  const reference = frameIds[Math.floor(frameIds.length / 2)];
  return (
    <>
      <h1>{kind === 'blend' ? blendWords(title, frameIds.length, gaps.length) : `${title}.`}</h1>
      <Stand
        widthPx={widthPx}
        heightPx={heightPx}
        after={{
          name: kind === 'blend' ? 'after: blended' : title,
          whole: enginePaths.picturePreview(store, id, 1600),
          full: enginePaths.picturePreview(store, id, Math.max(widthPx, heightPx)),
        }}
        before={
          kind === 'blend' && reference !== undefined
            ? {
                name: 'before: one frame',
                whole: enginePaths.preview(store, reference, 1600),
                full: enginePaths.preview(store, reference, Math.max(widthPx, heightPx)),
              }
            : null
        }
        gaps={gaps}
      />
      {done.length > 0 && (
        <section>
          <h2>What was done</h2>
          <ul class="list plain">
            {done.map((step) => (
              <li key={step}>{step}</li>
            ))}
          </ul>
        </section>
      )}
      <DeliverForm store={store} of={{ pictureId: id }} title={title} widthPx={widthPx} heightPx={heightPx} />
    </>
  );
}

export function OneFrame({ store, id }: { store: StoreName; id: string }) {
  const frame = useSignal<LibraryFrame | null>(null);
  const title = useSignal('');
  const fault = useSignal<string | null>(null);
  useEffect(() => {
    void engineOf(store)
      .frames()
      .then((answer) => {
        if (!answer.ok) {
          fault.value = answer.fault.message;
          return;
        }
        const found = answer.value.frames.find((one) => one.id === id) ?? null;
        title.value = answer.value.series.find((one) => one.id === found?.series)?.name ?? '';
        frame.value = found;
        if (found === null) fault.value = 'It is not among the frames of the folder last opened.';
      });
  }, [id]);
  if (frame.value === null) return <NotHere fault={fault.value} store={store} />;
  const { widthPx, heightPx, words, largestDelivery, point } = frame.value;
  const worth = largestDelivery === null ? 'soft at every size' : `sharp enough for ${largestDelivery}`;
  return (
    <>
      <h1>
        {title.value === '' ? frame.value.file : title.value}: {words}, {worth}.
      </h1>
      <Stand
        widthPx={widthPx}
        heightPx={heightPx}
        after={{
          name: frame.value.file,
          whole: enginePaths.preview(store, id, 1600),
          full: enginePaths.preview(store, id, Math.max(widthPx, heightPx)),
        }}
        before={null}
        gaps={[]}
        middle={point}
      />
      <DeliverForm
        store={store}
        of={{ frameId: id }}
        title={title.value}
        widthPx={widthPx}
        heightPx={heightPx}
      />
    </>
  );
}

function NotHere({ fault, store }: { fault: string | null; store: StoreName }) {
  if (fault === null) return <h1>Looking for the picture.</h1>;
  return (
    <>
      <h1>This picture is not here.</h1>
      <p class="told" role="alert">
        {fault}
      </p>
      <div class="buttons">
        <a class="button" href={addressOf(store, 'picture')}>
          All pictures
        </a>
      </div>
    </>
  );
}

function blendWords(title: string, frames: number, gaps: number): string {
  const places = gaps === 1 ? 'one place, hatched, is' : `${gaps} places, hatched, are`;
  const gapWords = gaps === 0 ? 'sharp throughout' : `${places} sharp in none of them`;
  return `${title}, from ${counted(frames, 'frame')}: ${gapWords}.`;
}
