/** The weather as found: wind as felt, the light, drops, the air's temperature. Each is written as it is said. */
import type { Outing } from '@tepal/notebook';
import { Choice, Stepper } from '../set-up/controls/stepper.tsx';
import { steps, stepFrom } from '../set-up/question/steps.ts';

/** What each number of the Beaufort scale is to the face and to the leaves. @source WMO-No. 8, in short */
const beaufortWords = [
  'smoke rises straight',
  'smoke drifts',
  'felt on the face',
  'leaves never still',
  'dust rises',
  'small trees sway',
  'large branches move',
  'whole trees move',
];

type Found = NonNullable<Outing['found']>;
const nothingFound: Found = { light: null, drops: null, temperatureC: null };

export function FoundHere({ outing, onWrite }: { outing: Outing; onWrite: (by: Partial<Outing>) => void }) {
  const found = outing.found ?? nothingFound;
  const felt = outing.feltWindBeaufort;
  const write = (by: Partial<Found>) => onWrite({ found: { ...found, ...by } });
  const drops = found.drops === null ? 'unsaid' : found.drops ? 'drops' : 'none';
  return (
    <>
      <div class="steppers">
        <Stepper
          name="wind as felt, Beaufort"
          value={felt === null ? 'not noted' : `Beaufort ${felt}`}
          hint={felt === null ? 'wind as felt' : (beaufortWords[felt] ?? 'a storm')}
          onStep={(by) =>
            onWrite({ feltWindBeaufort: felt === null ? 1 : Math.min(12, Math.max(0, felt + by)) })
          }
        />
        <Stepper
          name="air temperature"
          value={found.temperatureC === null ? 'not noted' : `${found.temperatureC} °C`}
          hint="air"
          onStep={(by) =>
            write({
              temperatureC:
                found.temperatureC === null ? 12 : stepFrom(steps.temperatureC, found.temperatureC, by),
            })
          }
        />
      </div>
      <Choice
        name="Light as found"
        value={found.light ?? 'unsaid'}
        words={[
          ['unsaid', 'not noted'],
          ['soft', 'soft'],
          ['sun', 'sun'],
          ['any', 'changing'],
        ]}
        onChoose={(light) => write({ light: light === 'unsaid' ? null : light })}
      />
      <Choice
        name="Drops"
        value={drops}
        words={[
          ['unsaid', 'not noted'],
          ['none', 'none'],
          ['drops', 'drops on it'],
        ]}
        onChoose={(one) => write({ drops: one === 'unsaid' ? null : one === 'drops' })}
      />
    </>
  );
}
