/** A value with a smaller and a larger one beside it, each wide enough for a gloved thumb; a choice of a few words. */
import { stepFrom } from '../question/steps.ts';

export function Stepper(props: {
  name: string;
  value: string;
  /** What stands under the value, where the name is too long for it. */
  hint?: string;
  onStep: (by: 1 | -1) => void;
  fixed?: boolean;
  onFree?: () => void;
}) {
  const { name, value, hint, onStep, fixed, onFree } = props;
  return (
    <div class="stepper" role="group" aria-label={name}>
      <button aria-label={`Smaller: ${name}`} onClick={() => onStep(-1)}>
        −
      </button>
      <span class="stepper-value">
        <output aria-live="polite">{value}</output>
        {fixed === true ? (
          <button class="quiet" onClick={onFree} aria-label={`Leave ${name} to the advice`}>
            set by you, free it
          </button>
        ) : (
          <span class="hint">{hint ?? name}</span>
        )}
      </span>
      <button aria-label={`Larger: ${name}`} onClick={() => onStep(1)}>
        +
      </button>
    </div>
  );
}

/** A stepper along a list of numbers. */
export function Along(props: {
  name: string;
  hint?: string;
  value: number;
  list: readonly number[];
  words: (value: number) => string;
  onSet: (value: number) => void;
  fixed?: boolean;
  onFree?: () => void;
}) {
  const { value, list, words, onSet, ...rest } = props;
  return <Stepper {...rest} value={words(value)} onStep={(by) => onSet(stepFrom(list, value, by))} />;
}

export function Choice<T extends string>(props: {
  name: string;
  value: T;
  words: readonly (readonly [T, string])[];
  onChoose: (value: T) => void;
}) {
  const { name, value, words, onChoose } = props;
  return (
    <fieldset class="choice">
      <legend class="hint">{name}</legend>
      <div class="choice-row">
        {words.map(([one, word]) => (
          <label key={one} class={one === value ? 'taken' : undefined}>
            <input
              class="unseen"
              type="radio"
              name={name}
              checked={one === value}
              onChange={() => onChoose(one)}
            />
            {word}
          </label>
        ))}
      </div>
    </fieldset>
  );
}
