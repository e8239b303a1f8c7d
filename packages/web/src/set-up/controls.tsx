/** Everything that can be said at the subject, by steppers; nothing here computes. */
import type { ExposeDocument } from '@tepal/formats';
import { F_NUMBER_DIAL, ISO_DIAL, plantMotion, SHUTTER_DIAL } from '@tepal/science';
import { apertureWords, digits, oneDecimal, ratioWords, shutterWords } from '../words/amounts.ts';
import { stepFrom, steps, type SetUpInputs } from './inputs.ts';
import { Choice, Stepper } from './stepper.tsx';

const fNumbers = F_NUMBER_DIAL.map(({ marked }) => marked).toSorted((a, b) => a - b);
const times = SHUTTER_DIAL.map(({ marked }) => marked).toSorted((a, b) => a - b);
const isos = ISO_DIAL.map(({ marked }) => marked).toSorted((a, b) => a - b);

interface ControlsProps {
  readonly inputs: SetUpInputs;
  readonly advice: ExposeDocument | null;
  readonly onChange: (change: Partial<SetUpInputs>) => void;
}

export function Controls({ inputs, advice, onChange }: ControlsProps) {
  const set = advice?.recommended;
  const { kit } = inputs;
  const inLens = fNumbers.filter((f) => f >= kit.minFNumber - 0.01 && f <= kit.maxFNumber + 0.01);
  const fNow = inputs.fNumber ?? set?.fNumber ?? kit.minFNumber;
  const tNow = inputs.exposureTimeS ?? set?.exposureTimeNominalS ?? 1 / 250;
  const isoNow = inputs.iso ?? set?.iso ?? 800;
  const far = inputs.backgroundMm;
  return (
    <>
      <div class="steppers">
        <Stepper
          name="aperture"
          value={apertureWords(fNow)}
          onStep={(by) => onChange({ fNumber: stepFrom(inLens, fNow, by) })}
          fixed={inputs.fNumber !== null}
          onFree={() => onChange({ fNumber: null })}
        />
        <Stepper
          name="shutter"
          value={shutterWords(tNow)}
          onStep={(by) =>
            onChange({
              exposureTimeS: stepFrom(times, tNow, by),
              ...(inputs.fNumber === null ? {} : { iso: null }),
            })
          }
          fixed={inputs.exposureTimeS !== null}
          onFree={() => onChange({ exposureTimeS: null })}
        />
        <Stepper
          name="ISO"
          value={String(isoNow)}
          onStep={(by) =>
            onChange({
              iso: stepFrom(isos, isoNow, by),
              ...(inputs.fNumber === null ? {} : { exposureTimeS: null }),
            })
          }
          fixed={inputs.iso !== null}
          onFree={() => onChange({ iso: null })}
        />
        <Stepper
          name="magnification"
          value={ratioWords(inputs.magnification)}
          onStep={(by) =>
            onChange({ magnification: stepFrom(steps.magnification, inputs.magnification, by) })
          }
        />
        <Stepper
          name="wind at the plant"
          value={plantMotion(inputs.windMs)}
          hint={`wind ${oneDecimal(inputs.windMs)} m/s`}
          onStep={(by) => onChange({ windMs: stepFrom(steps.windMs, inputs.windMs, by) })}
        />
        <Stepper
          name="light"
          value={`EV ${digits(inputs.ev100, inputs.ev100 >= 10 ? 3 : 2)}`}
          hint={lightWord(inputs.ev100)}
          onStep={(by) => onChange({ ev100: stepFrom(steps.ev100, inputs.ev100, by) })}
        />
        <Stepper
          name="depth of the subject"
          value={`${inputs.subjectDepthMm} mm`}
          hint="deep"
          onStep={(by) =>
            onChange({ subjectDepthMm: stepFrom(steps.subjectDepthMm, inputs.subjectDepthMm, by) })
          }
        />
        <Stepper
          name="background behind it"
          hint="to the ground"
          value={far >= 1000 ? `${far / 1000} m` : `${far / 10} cm`}
          onStep={(by) => onChange({ backgroundMm: stepFrom(steps.backgroundMm, far, by) })}
        />
        <Stepper
          name="stabilisation"
          value={inputs.stabilisation === 1 ? '1 stop' : `${inputs.stabilisation} stops`}
          onStep={(by) =>
            onChange({ stabilisation: stepFrom(steps.stabilisation, inputs.stabilisation, by) })
          }
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
      <Choice
        name="Stem, between two fingers"
        value={inputs.stem}
        words={[
          ['stiff', 'stiff'],
          ['medium', 'medium'],
          ['wand', 'like a wand'],
        ]}
        onChoose={(stem) => onChange({ stem })}
      />
    </>
  );
}

/** The light as it looks. Upper values as in ANSI exposure guides; below them common practice. */
function lightWord(ev100: number): string {
  const words: readonly (readonly [number, string])[] = [
    [14.5, 'full sun'],
    [13.5, 'hazy sun'],
    [12.5, 'bright cloud'],
    [11.5, 'overcast'],
    [10.5, 'open shade'],
    [8.5, 'under trees'],
    [6.5, 'deep shade'],
  ];
  return words.find(([from]) => ev100 >= from)?.[1] ?? 'dusk';
}
