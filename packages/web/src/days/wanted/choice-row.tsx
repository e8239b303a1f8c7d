/** One question of a form with a few words to choose from. */
export function ChoiceRow<K extends string>(props: {
  name: string;
  legend: string;
  choices: Readonly<Record<K, string>>;
  now: K;
}) {
  const { name, legend, choices, now } = props;
  return (
    <fieldset class="field">
      <legend>{legend}</legend>
      <div class="choices">
        {(Object.keys(choices) as K[]).map((choice) => (
          <label key={choice}>
            <input type="radio" name={name} value={choice} defaultChecked={choice === now} />
            {choices[choice]}
          </label>
        ))}
      </div>
    </fieldset>
  );
}
