/** Two ways in. No site, kit or account is asked for. */
import { useSignal } from '@preact/signals';
import { enginePaths, type FramesAnswer, type StoreState } from '@tepal/formats';
import type { JSX } from 'preact';
import { useEffect } from 'preact/hooks';
import { engineOf } from '../engine/engine.ts';
import { counted } from '../words/amounts.ts';
import { addressOf } from './address.ts';
import { FolderChooser } from './folder-chooser.tsx';

export function FirstScreen({ query }: { query: URLSearchParams }) {
  const meet = query.get('meet');
  if (meet !== null) return <Pairing code={meet} />;
  const choosing = query.get('folder');
  return choosing === null ? <TwoWays /> : <FolderChooser path={choosing} />;
}

/** What the code of the desk opens on a phone; its script is fetched only then. */
function Pairing({ code }: { code: string }) {
  const page = useSignal<JSX.Element | null>(null);
  useEffect(() => {
    void import('../meeting/phone-side.tsx').then(({ PairHere }) => (page.value = <PairHere code={code} />));
  }, []);
  return page.value;
}

function TwoWays() {
  const mine = useSignal<StoreState | null>(null);
  const fault = useSignal<string | null>(null);
  const shown = useSignal<readonly string[]>([]);
  const ribbon = useSignal<JSX.Element | null>(null);
  useEffect(() => {
    void engineOf('mine')
      .state()
      .then((answer) => {
        if (!answer.ok) fault.value = answer.fault.message;
        else mine.value = answer.value.stores.find(({ store }) => store === 'mine') ?? null;
      });
    void engineOf('invented')
      .frames()
      .then((answer) => {
        if (answer.ok) shown.value = bestCrops(answer.value);
      });
    void engineOf('invented')
      .days()
      .then(async (answer) => {
        if (!answer.ok || answer.value.days.length === 0) return;
        // Drawn after the two ways stand, so that its script delays nothing.
        const { FirstRibbon } = await import('../days/first-ribbon.tsx');
        ribbon.value = <FirstRibbon days={answer.value.days} />;
      })
      .catch(() => undefined);
  }, []);
  const folder = mine.value?.folder ?? null;
  return (
    <div class="first">
      <h1>When to go, what to set, and which of the two hundred frames is the one.</h1>
      {fault.value !== null && (
        <p class="told" role="alert">
          {fault.value}
        </p>
      )}
      <div class="ways">
        <div class="way">
          <a href="/?folder=">Choose a folder of your photographs</a>
          <p>
            They are read, never changed, and never leave this computer. Each is measured where it must be
            sharp, and what spoiled it is said in words.
          </p>
          {folder !== null && (
            <p>
              Or go on with{' '}
              <a href={addressOf('mine', 'frames')}>
                {folder}, {counted(mine.value?.frameCount ?? 0, 'frame')}
              </a>
              .
            </p>
          )}
        </div>
        <div class="way">
          <a href={addressOf('invented', 'days')}>Look at the invented outing</a>
          <p>
            A damp hay meadow with scabious and ladybirds, from the forecast to the filed record. Place,
            people and weather are invented; it is kept apart and leaves nothing behind.
          </p>
          {shown.value.length > 0 && (
            <a
              class="crops"
              href={addressOf('invented', 'frames')}
              aria-label="Frames of the invented outing"
            >
              {shown.value.map((url) => (
                <img key={url} src={url} alt="" />
              ))}
            </a>
          )}
        </div>
      </div>
      {ribbon.value}
    </div>
  );
}

/** The best frame of the first series, beside the ones that fell behind it. */
function bestCrops({ series, frames }: FramesAnswer): readonly string[] {
  const fullest = series.toSorted((a, b) => b.frameIds.length - a.frameIds.length)[0];
  if (fullest === undefined) return [];
  const ranked = frames
    .filter(({ series: id, rank }) => id === fullest.id && rank !== null)
    .toSorted((a, b) => (a.rank ?? 0) - (b.rank ?? 0));
  const picked = [ranked[0], ranked[Math.floor(ranked.length / 2)], ranked.at(-1)];
  return [...new Set(picked)]
    .filter((frame) => frame !== undefined)
    .map(({ id, point }) =>
      enginePaths.crop('invented', id, { x: point.x, y: point.y, width: 220, height: 220 }),
    );
}
