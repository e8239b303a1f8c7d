/** The plant and what sits on it. */
import { oneDecimal } from '../../words/amounts.ts';
import { steps } from '../question/steps.ts';
import type { ControlsProps } from './controls-props.ts';
import { Along, Choice } from './stepper.tsx';

const stemWords = { stiff: 'stiff', medium: 'medium', wand: 'like a wand' } as const;
const insectWords = {
  none: 'none',
  torpid: 'torpid',
  resting: 'resting',
  feeding: 'feeding',
  hovering: 'hovering',
} as const;

export function PlantControls({ inputs, onChange }: ControlsProps) {
  const insect = inputs.insect === 'none' ? '' : `, insect ${insectWords[inputs.insect]}`;
  return (
    <details class="folded">
      <summary>
        Plant: stem {stemWords[inputs.stem]}
        {insect}
      </summary>
      <div class="steppers">
        <Along
          name="wind at the plant in m/s"
          hint="wind at the plant"
          value={inputs.windMs}
          list={steps.windFinelyMs}
          words={(ms) => `${oneDecimal(ms)} m/s`}
          onSet={(windMs) => onChange({ windMs, swayAmplitudeMm: null, swayFrequencyHz: null })}
        />
      </div>
      <Choice
        name="Stem, between two fingers"
        value={inputs.stem}
        words={[
          ['stiff', stemWords.stiff],
          ['medium', stemWords.medium],
          ['wand', stemWords.wand],
        ]}
        onChoose={(stem) => onChange({ stem })}
      />
      <Choice
        name="Insect that must be sharp"
        value={inputs.insect}
        words={[
          ['none', insectWords.none],
          ['torpid', insectWords.torpid],
          ['resting', insectWords.resting],
          ['feeding', insectWords.feeding],
          ['hovering', insectWords.hovering],
        ]}
        onChoose={(insect) => onChange({ insect })}
      />
    </details>
  );
}
