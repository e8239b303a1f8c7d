/** The subject of a wanted picture: its name, and what sharpens the answer. */
import type { Subject } from '@tepal/notebook';
import { ChoiceRow } from './choice-row.tsx';
import { OPENS_MEANINGS, SENSITIVITY_MEANINGS } from './wanted-of-form.ts';

const months = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'];

export function SubjectFields({ subject }: { subject: Subject | null }) {
  const field = (name: string, label: string, value: string, decimal = false) => (
    <div class="field">
      <label for={`subject-${name}`}>{label}</label>
      <input
        id={`subject-${name}`}
        name={name}
        autocomplete="off"
        {...(decimal ? { inputMode: 'decimal' as const } : {})}
        defaultValue={value}
      />
    </div>
  );
  const number = (value: number | null | undefined, times = 1) =>
    value === null || value === undefined ? '' : String(Number((value * times).toFixed(2)));
  return (
    <>
      <div class="fields">
        {field('commonName', 'Its name', subject?.commonNames['en'] ?? '')}
        {field('scientificName', 'Scientific name, if you like', subject?.scientificName ?? '')}
        {field(
          'subjectHeightCm',
          'Height above the ground, cm',
          number(subject?.heightAboveGroundM, 100),
          true,
        )}
      </div>
      <ChoiceRow name="opens" legend="It is open" choices={OPENS_MEANINGS} now={subject?.opens ?? 'any'} />
      <fieldset class="field">
        <legend>It is out in</legend>
        <div class="choices months">
          {months.map((month, at) => (
            <label key={month}>
              <input
                type="checkbox"
                name="month"
                value={at + 1}
                defaultChecked={subject?.months.includes(at + 1) ?? false}
              />
              {month}
            </label>
          ))}
        </div>
      </fieldset>
      <details class="more">
        <summary>More about it, all optional</summary>
        <div class="fields">
          {field('subjectSizeMm', 'Longer side of what fills the frame, mm', number(subject?.sizeMm), true)}
          {field('subjectDepthMm', 'Depth along the line of sight, mm', number(subject?.depthMm), true)}
          <div class="field">
            <label for="subject-stem">Its stem is</label>
            <select id="subject-stem" name="stem">
              <option value="">not known</option>
              <option value="stiff" selected={subject?.stem === 'stiff'}>
                stiff
              </option>
              <option value="medium" selected={subject?.stem === 'medium'}>
                in between
              </option>
              <option value="wand" selected={subject?.stem === 'wand'}>
                a wand that swings
              </option>
            </select>
          </div>
          <div class="field">
            <label for="subject-sensitivity">Harm if its place were known</label>
            <select id="subject-sensitivity" name="sensitivity">
              {Object.entries(SENSITIVITY_MEANINGS).map(([word, meaning]) => (
                <option key={word} value={word} selected={word === (subject?.sensitivity ?? '')}>
                  {meaning}
                </option>
              ))}
            </select>
          </div>
        </div>
      </details>
    </>
  );
}
