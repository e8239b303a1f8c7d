/** The magnification found again: by what is as wide as the frame, or by frames of a ruler, one line a lens. */
import { useSignal } from '@preact/signals';
import { magnificationAt, magnificationLine, magnificationOfLength, type RulerFrame } from '@tepal/science';
import { lengthWords, ratioWords } from '../../words/amounts.ts';
import type { Kit } from '../question/inputs.ts';
import { keepRulerFrames, keptRulerFrames } from '../question/ruler-frames.ts';
import { steps } from '../question/steps.ts';
import type { ControlsProps } from './controls-props.ts';
import { Along } from './stepper.tsx';

export function MagnificationFound({ inputs, onChange }: ControlsProps) {
  const { kit } = inputs;
  const focusMm = useSignal(300);
  const frames = useSignal(keptRulerFrames(kit.focalLengthMm));
  const across = fieldWidthMm(kit, inputs.magnification);
  const byRuler = readOff(frames.value, focusMm.value);
  const keep = (next: readonly RulerFrame[]) => {
    frames.value = next;
    keepRulerFrames(kit.focalLengthMm, next);
  };
  return (
    <details class="folded">
      <summary>Magnification found again: {lengthWords(across)} fill the frame’s width</summary>
      <p class="small faint">
        What is as wide as the frame, a coin, a thumb, a leaf one has measured, gives the magnification. Lay a
        ruler there once for each of a few focus distances, and the lens tells it from then on.
      </p>
      <div class="steppers">
        <Along
          name="width that fills the frame"
          hint="fill the width"
          value={across}
          list={steps.fieldWidthMm}
          words={lengthWords}
          onSet={(mm) => onChange({ magnification: ofFieldWidth(kit, mm) })}
        />
        <Along
          name="focus distance on the lens"
          hint="focused at"
          value={focusMm.value}
          list={steps.focusDistanceMm}
          words={lengthWords}
          onSet={(mm) => (focusMm.value = mm)}
        />
      </div>
      <div class="buttons">
        <button
          onClick={() =>
            keep([
              ...frames.value.filter(({ focusDistanceMm }) => focusDistanceMm !== focusMm.value),
              { focusDistanceMm: focusMm.value, magnification: inputs.magnification },
            ])
          }
        >
          Keep this ruler frame
        </button>
        {byRuler !== null && (
          <button onClick={() => onChange({ magnification: byRuler.magnification })}>
            Take {ratioWords(byRuler.magnification)} by the ruler
          </button>
        )}
      </div>
      {frames.value.length > 0 && (
        <p class="small">
          {kit.focalLengthMm} mm lens:{' '}
          {frames.value
            .toSorted((a, b) => a.focusDistanceMm - b.focusDistanceMm)
            .map(
              ({ focusDistanceMm, magnification }) =>
                `${ratioWords(magnification)} at ${lengthWords(focusDistanceMm)}`,
            )
            .join('; ')}
          .{byRuler?.withinMeasured === false && ' The distance lies beyond these frames.'}{' '}
          <button class="quiet" onClick={() => keep([])}>
            forget them
          </button>
        </p>
      )}
    </details>
  );
}

const pixelUm = (kit: Kit) => (1000 * kit.sensorWidthMm) / kit.widthPx;
const ofFieldWidth = (kit: Kit, mm: number) => magnificationOfLength(kit.widthPx, pixelUm(kit), mm);
/** What is as wide as the frame is to the sensor as life to the image. */
const fieldWidthMm = (kit: Kit, magnification: number) => kit.sensorWidthMm / magnification;

function readOff(frames: readonly RulerFrame[], focusDistanceMm: number) {
  if (frames.length === 0) return null;
  const found = magnificationAt(magnificationLine(frames), focusDistanceMm);
  return found.kind === 'found' ? found : null;
}
