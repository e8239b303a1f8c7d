/** Everything that can be said at the subject, by steppers; nothing here computes. What is seldom changed is folded. */
import type { ExposeDocument, Explained } from '@tepal/formats';
import { plantMotion } from '@tepal/science';
import { apertureWords, lengthWords, oneDecimal, ratioWords, shutterWords } from '../../words/amounts.ts';
import { windOfWord } from '../../words/wind.ts';
import { dials, stepFrom, steps } from '../question/steps.ts';
import type { ControlsProps } from './controls-props.ts';
import { CameraControls, PrintControls } from './camera-controls.tsx';
import { KitForm } from './kit-form.tsx';
import { LightControls, lightName } from './light-controls.tsx';
import { MagnificationFound } from './magnification-found.tsx';
import { PlantControls } from './plant-controls.tsx';
import { Along, Choice, Stepper } from './stepper.tsx';

interface AllControlsProps extends ControlsProps {
  readonly advice: ExposeDocument | null;
  readonly onOpen: (what: Explained) => void;
}

export function Controls({ inputs, advice, onChange, onOpen }: AllControlsProps) {
  return (
    <>
      <div class="steppers">
        <Dials inputs={inputs} advice={advice} onChange={onChange} />
        <Along
          name="magnification"
          hint="of life size"
          value={inputs.magnification}
          list={steps.magnification}
          words={ratioWords}
          onSet={(magnification) => onChange({ magnification })}
        />
        <WindStepper inputs={inputs} onChange={onChange} />
        {inputs.lightFrom === 'look' && (
          <Along
            name="light"
            hint={lightName(inputs.ev100)}
            value={inputs.ev100}
            list={steps.ev100}
            words={(ev) => `EV ${oneDecimal(ev)}`}
            onSet={(ev100) => onChange({ ev100 })}
          />
        )}
        <Along
          name="depth of the subject"
          hint="deep"
          value={inputs.subjectDepthMm}
          list={steps.subjectDepthMm}
          words={lengthWords}
          onSet={(subjectDepthMm) => onChange({ subjectDepthMm })}
        />
        <Along
          name="background behind it"
          hint="behind it"
          value={inputs.backgroundMm}
          list={steps.backgroundMm}
          words={lengthWords}
          onSet={(backgroundMm) => onChange({ backgroundMm })}
        />
        <Along
          name="stabilisation"
          value={inputs.stabilisation}
          list={steps.stabilisation}
          words={(stops) => (stops === 1 ? '1 stop' : `${stops} stops`)}
          onSet={(stabilisation) => onChange({ stabilisation })}
        />
      </div>
      <Choice
        name="What holds the camera"
        value={inputs.support}
        words={[
          ['tripod', 'tripod'],
          ['beanbag', 'beanbag'],
          ['elbows', 'elbows'],
          ['kneeling', 'kneeling'],
          ['standing', 'standing'],
        ]}
        onChoose={(support) => onChange({ support })}
      />
      <p class="opens">
        <button class="quiet" onClick={() => onOpen('wind')}>
          what the wind does
        </button>{' '}
        <button class="quiet" onClick={() => onOpen('light')}>
          how bright it is
        </button>
      </p>
      <PlantControls inputs={inputs} onChange={onChange} />
      <LightControls inputs={inputs} onChange={onChange} />
      <MagnificationFound key={inputs.kit.focalLengthMm} inputs={inputs} onChange={onChange} />
      <CameraControls inputs={inputs} onChange={onChange} />
      <PrintControls inputs={inputs} onChange={onChange} />
      <KitForm kit={inputs.kit} onChange={(kit) => onChange({ kit, fNumber: null })} />
    </>
  );
}

/** The three dials of the camera: as advised, or as set by hand. */
function Dials({ inputs, advice, onChange }: Omit<AllControlsProps, 'onOpen'>) {
  const set = advice?.recommended;
  const { kit } = inputs;
  const inLens = dials.fNumbers.filter((f) => f >= kit.minFNumber - 0.01 && f <= kit.maxFNumber + 0.01);
  return (
    <>
      <Along
        name="aperture"
        value={inputs.fNumber ?? set?.fNumber ?? kit.minFNumber}
        list={inLens}
        words={apertureWords}
        onSet={(fNumber) => onChange({ fNumber })}
        fixed={inputs.fNumber !== null}
        onFree={() => onChange({ fNumber: null })}
      />
      <Along
        name="shutter"
        value={inputs.exposureTimeS ?? set?.exposureTimeNominalS ?? 1 / 250}
        list={dials.timesS}
        words={shutterWords}
        // Aperture and shutter set, the light leaves one ISO.
        onSet={(exposureTimeS) =>
          onChange({ exposureTimeS, ...(inputs.fNumber === null ? {} : { iso: null }) })
        }
        fixed={inputs.exposureTimeS !== null}
        onFree={() => onChange({ exposureTimeS: null })}
      />
      <Along
        name="ISO"
        value={inputs.iso ?? set?.iso ?? 800}
        list={dials.isos}
        words={String}
        onSet={(iso) => onChange({ iso, ...(inputs.fNumber === null ? {} : { exposureTimeS: null }) })}
        fixed={inputs.iso !== null}
        onFree={() => onChange({ iso: null })}
      />
    </>
  );
}

/** The wind in four words; watched sway goes before it. */
function WindStepper({ inputs, onChange }: ControlsProps) {
  const { windMs, swayAmplitudeMm, swayFrequencyHz } = inputs;
  if (swayAmplitudeMm !== null && swayFrequencyHz !== null) {
    return (
      <div class="stepper as-watched" role="group" aria-label="sway as watched">
        <span class="stepper-value">
          <output>
            ± {oneDecimal(swayAmplitudeMm)} mm, {oneDecimal(swayFrequencyHz)} Hz
          </output>
          <button
            class="quiet"
            onClick={() => onChange({ swayAmplitudeMm: null, swayFrequencyHz: null })}
            aria-label="Take the wind instead of the sway as watched"
          >
            sway as watched, free it
          </button>
        </span>
      </div>
    );
  }
  return (
    <Stepper
      name="wind at the plant"
      value={plantMotion(windMs)}
      hint={`${oneDecimal(windMs)} m/s`}
      onStep={(by) => onChange({ windMs: stepFrom(Object.values(windOfWord), windMs, by) })}
    />
  );
}
