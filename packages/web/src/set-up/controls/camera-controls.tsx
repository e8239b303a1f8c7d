/** How the camera is used, and what the picture is for. */
import { lengthWords, shutterWords } from '../../words/amounts.ts';
import { deliveryOf } from '../question/request.ts';
import { dials, steps } from '../question/steps.ts';
import type { ControlsProps } from './controls-props.ts';
import { Along, Choice } from './stepper.tsx';

const useWords = { aperturePreferred: 'aperture preferred', manual: 'all by hand' } as const;

export function CameraControls({ inputs, onChange }: ControlsProps) {
  const { slowestShutterS, isoCeiling } = inputs;
  return (
    <details class="folded">
      <summary>Camera: {useWords[inputs.camera]}</summary>
      <Choice
        name="Used"
        value={inputs.camera}
        words={[
          ['aperturePreferred', useWords.aperturePreferred],
          ['manual', useWords.manual],
        ]}
        onChoose={(camera) => onChange({ camera })}
      />
      <div class="steppers">
        <Along
          name="ISO ceiling"
          hint="ISO ceiling"
          value={isoCeiling ?? 3200}
          list={dials.isos}
          words={(iso) => (isoCeiling === null ? 'by the print' : String(iso))}
          onSet={(iso) => onChange({ isoCeiling: isoCeiling === null ? 3200 : iso })}
          fixed={isoCeiling !== null}
          onFree={() => onChange({ isoCeiling: null })}
        />
        <Along
          name="slowest shutter"
          hint="slowest shutter"
          value={slowestShutterS ?? 1 / 30}
          list={dials.timesS}
          words={(s) => (slowestShutterS === null ? 'by the hold' : shutterWords(s))}
          onSet={(s) => onChange({ slowestShutterS: slowestShutterS === null ? 1 / 30 : s })}
          fixed={slowestShutterS !== null}
          onFree={() => onChange({ slowestShutterS: null })}
        />
        <Along
          name="frames willing to take"
          hint="frames at most"
          value={inputs.frames}
          list={steps.frames}
          words={String}
          onSet={(frames) => onChange({ frames })}
        />
      </div>
    </details>
  );
}

export function PrintControls({ inputs, onChange }: ControlsProps) {
  const { widthMm, heightMm, viewingDistanceMm } = deliveryOf(inputs);
  return (
    <details class="folded">
      <summary>
        For: {widthMm} × {heightMm} mm, seen from {lengthWords(viewingDistanceMm)}
      </summary>
      <div class="steppers">
        <Along
          name="longer side of the print"
          hint="longer side"
          value={inputs.printMm}
          list={steps.printMm}
          words={lengthWords}
          onSet={(printMm) => onChange({ printMm })}
        />
        <Along
          name="distance of the eye"
          hint="seen from"
          value={inputs.viewedFromMm}
          list={steps.viewedFromMm}
          words={lengthWords}
          onSet={(viewedFromMm) => onChange({ viewedFromMm })}
        />
      </div>
    </details>
  );
}
