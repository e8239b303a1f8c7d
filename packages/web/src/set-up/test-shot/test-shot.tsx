/** Test-shot check: one JPEG, read in the page and measured beside it. No advice waits for it. */
import { useSignal } from '@preact/signals';
import { readPhotoMetadata, type PhotoMetadata } from '@tepal/formats';
import { apertureWords, shutterWords } from '../../words/amounts.ts';
import type { SetUpInputs } from '../question/inputs.ts';
import { deliveryOf } from '../question/request.ts';
import { nearestMark } from '../question/steps.ts';
import { BackgroundStops } from './background-stops.tsx';
import { measureShot } from './measure-shot.ts';
import type { ShotMeasures, ShotPoint } from './shot-messages.ts';
import { ShotPicture } from './shot-picture.tsx';
import { shotSentences } from './shot-words.ts';

interface TestShotProps {
  readonly inputs: SetUpInputs;
  readonly onChange: (change: Partial<SetUpInputs>) => void;
}

export function TestShot({ inputs, onChange }: TestShotProps) {
  const address = useSignal<string | null>(null);
  const said = useSignal<PhotoMetadata | null>(null);
  const measures = useSignal<ShotMeasures | null>(null);
  const fault = useSignal<string | null>(null);
  const busy = useSignal(false);

  const measure = async (file: Blob | null, point: ShotPoint | null) => {
    busy.value = true;
    const answer = await measureShot({ file, point, delivery: deliveryOf(inputs) });
    busy.value = false;
    fault.value = answer.ok ? null : answer.message;
    if (answer.ok) measures.value = answer.measures;
    else if (file !== null) measures.value = null;
  };
  const choose = async (file: File) => {
    if (address.value !== null) URL.revokeObjectURL(address.value);
    address.value = URL.createObjectURL(file);
    measures.value = null;
    const read = readPhotoMetadata(new Uint8Array(await file.arrayBuffer()));
    said.value = read.ok ? read.value : null;
    await measure(file, null);
  };
  const shot = measures.value;
  return (
    <details class="folded tool">
      <summary>Test shot</summary>
      <p class="small faint">One JPEG of it, looked at here; it stays on this device and is not kept.</p>
      <label class="field">
        <span class="unseen">The test shot, a JPEG</span>
        <input
          type="file"
          accept="image/jpeg"
          onChange={(event) => {
            const file = event.currentTarget.files?.[0];
            if (file !== undefined) void choose(file);
          }}
        />
      </label>
      <p aria-live="polite">{busy.value ? 'Measuring.' : ''}</p>
      {fault.value !== null && (
        <p class="told" role="alert">
          {fault.value}
        </p>
      )}
      {address.value !== null && shot !== null && (
        <>
          <ShotPicture
            address={address.value}
            shot={shot}
            inputs={inputs}
            onPoint={(point) => void measure(null, point)}
            onMagnification={(magnification) => onChange({ magnification })}
          />
          <ul class="list shot-words" aria-live="polite">
            {shotSentences(shot).map(({ about, words, good }) => (
              <li key={about} class={good ? undefined : 'to-do'}>
                {words}
              </li>
            ))}
          </ul>
        </>
      )}
      {said.value !== null && <TakeLight said={said.value} onChange={onChange} />}
      {shot !== null && <BackgroundStops inputs={inputs} />}
    </details>
  );
}

/** The settings that the picture names, as the light. */
function TakeLight({ said, onChange }: { said: PhotoMetadata; onChange: TestShotProps['onChange'] }) {
  const { fNumber, exposureTimeS, iso } = said;
  if (fNumber === null || exposureTimeS === null || iso === null) {
    return <p class="hint">The file does not say with what it was taken.</p>;
  }
  const read = {
    fNumber: nearestMark.fNumber(fNumber),
    exposureTimeS: nearestMark.timeS(exposureTimeS),
    iso: nearestMark.iso(iso),
  };
  return (
    <div class="buttons">
      <button onClick={() => onChange({ lightFrom: 'testShot', read, brighterByStops: 0 })}>
        Take {apertureWords(read.fNumber)}, {shutterWords(read.exposureTimeS)}, ISO {read.iso} as the light
      </button>
    </div>
  );
}
