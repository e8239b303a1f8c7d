/** The light: as it looks, read off the meter, or from a test shot; what is held to it. */
import { REFLECTOR_SURFACES, type ReflectorSurface } from '@tepal/science';
import { apertureWords, lengthWords, oneDecimal, shutterWords } from '../../words/amounts.ts';
import type { SetUpInputs } from '../question/inputs.ts';
import { dials, steps } from '../question/steps.ts';
import type { ControlsProps } from './controls-props.ts';
import { Along, Choice } from './stepper.tsx';

const fromWords = { look: 'as it looks', metered: 'by the meter', testShot: 'by a test shot' } as const;

export function LightControls({ inputs, onChange }: ControlsProps) {
  const { read } = inputs;
  return (
    <details class="folded">
      <summary>Light: {lightSummary(inputs)}</summary>
      <Choice
        name="Known"
        value={inputs.lightFrom}
        words={[
          ['look', fromWords.look],
          ['metered', fromWords.metered],
          ['testShot', fromWords.testShot],
        ]}
        onChoose={(lightFrom) => onChange({ lightFrom })}
      />
      {inputs.lightFrom !== 'look' && (
        <div class="steppers">
          <Along
            name="aperture of the reading"
            hint="read at"
            value={read.fNumber}
            list={dials.fNumbers}
            words={apertureWords}
            onSet={(fNumber) => onChange({ read: { ...read, fNumber } })}
          />
          <Along
            name="shutter of the reading"
            hint="read at"
            value={read.exposureTimeS}
            list={dials.timesS}
            words={shutterWords}
            onSet={(exposureTimeS) => onChange({ read: { ...read, exposureTimeS } })}
          />
          <Along
            name="ISO of the reading"
            hint="read at ISO"
            value={read.iso}
            list={dials.isos}
            words={String}
            onSet={(iso) => onChange({ read: { ...read, iso } })}
          />
          {inputs.lightFrom === 'testShot' && (
            <Along
              name="how the test shot came out"
              hint="it came out"
              value={inputs.brighterByStops}
              list={steps.brighterByStops}
              words={cameOut}
              onSet={(brighterByStops) => onChange({ brighterByStops })}
            />
          )}
        </div>
      )}
      <Choice
        name="Reflector"
        value={inputs.reflector}
        words={[['none', 'none'], ...REFLECTOR_SURFACES.map((one): [ReflectorSurface, string] => [one, one])]}
        onChoose={(reflector) => onChange({ reflector })}
      />
      {inputs.reflector !== 'none' && (
        <Held
          name="reflector"
          acrossMm={inputs.reflectorMm}
          awayMm={inputs.reflectorAwayMm}
          onSet={(reflectorMm, reflectorAwayMm) => onChange({ reflectorMm, reflectorAwayMm })}
        />
      )}
      <Choice
        name="Diffuser"
        value={inputs.diffuser}
        words={[
          ['none', 'none'],
          ['held', 'held over it'],
        ]}
        onChoose={(diffuser) => onChange({ diffuser })}
      />
      {inputs.diffuser !== 'none' && (
        <Held
          name="diffuser"
          acrossMm={inputs.diffuserMm}
          awayMm={inputs.diffuserAwayMm}
          onSet={(diffuserMm, diffuserAwayMm) => onChange({ diffuserMm, diffuserAwayMm })}
        />
      )}
    </details>
  );
}

/** How large a board or cloth is, and how far from the flower. */
function Held(props: {
  name: string;
  acrossMm: number;
  awayMm: number;
  onSet: (acrossMm: number, awayMm: number) => void;
}) {
  const { name, acrossMm, awayMm, onSet } = props;
  return (
    <div class="steppers">
      <Along
        name={`size of the ${name}`}
        hint="across"
        value={acrossMm}
        list={steps.boardMm}
        words={lengthWords}
        onSet={(mm) => onSet(mm, awayMm)}
      />
      <Along
        name={`distance of the ${name}`}
        hint="from the flower"
        value={awayMm}
        list={steps.awayMm}
        words={lengthWords}
        onSet={(mm) => onSet(acrossMm, mm)}
      />
    </div>
  );
}

function lightSummary({ lightFrom, ev100, read, reflector, diffuser }: SetUpInputs): string {
  const known =
    lightFrom === 'look'
      ? lightName(ev100)
      : `${fromWords[lightFrom]}, ${apertureWords(read.fNumber)}, ${shutterWords(read.exposureTimeS)}, ISO ${read.iso}`;
  const held = [
    reflector === 'none' ? '' : `${reflector} reflector`,
    diffuser === 'none' ? '' : 'diffuser',
  ].filter(Boolean);
  return [known, ...held].join(', ');
}

function cameOut(stops: number): string {
  if (stops === 0) return 'right';
  return `${oneDecimal(Math.abs(stops))} too ${stops > 0 ? 'bright' : 'dark'}`;
}

/** The light as it looks. Upper values as in ANSI exposure guides; below them common practice. */
export function lightName(ev100: number): string {
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
