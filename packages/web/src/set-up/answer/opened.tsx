/** A number opened: the way to it, each step with its equation, its source and the numbers that went in. */
import type { Signal } from '@preact/signals';
import type { Explained, ExposeDocument, Quantity } from '@tepal/formats';
import { digits } from '../../words/amounts.ts';

const titles: Readonly<Record<Explained, string>> = {
  aperture: 'Why this aperture',
  shutter: 'Why this shutter',
  iso: 'Why this ISO',
  frames: 'Why so many',
  blur: 'What adds up to it',
  depth: 'What is sharp of it',
  background: 'What becomes of the background',
  wind: 'What the wind does',
  light: 'How bright it is',
};

interface OpenedProps {
  readonly opened: Signal<Explained | null>;
  /** The numbers that are opened at this place of the page. */
  readonly here: readonly Explained[];
  readonly advice: ExposeDocument;
}

export function Opened({ opened, here, advice }: OpenedProps) {
  const what = opened.value;
  if (what === null || !here.includes(what)) return null;
  const steps = (advice.explanations ?? []).filter((one) => one.of === what);
  return (
    <div class="opened" role="region" aria-label={titles[what]}>
      <div class="part-head">
        <h2>{titles[what]}</h2>
        <button class="quiet" onClick={() => (opened.value = null)}>
          Close
        </button>
      </div>
      {steps.length === 0 && <p>Nothing of the kind went into this answer.</p>}
      <ol class="steps-of">
        {steps.map(({ name, equation, source, inputs, result }) => (
          <li key={name}>
            <h3>{name}</h3>
            <p class="form">{equation}</p>
            <dl>
              {inputs.map((input) => (
                <Line key={input.name} quantity={input} />
              ))}
              <Line quantity={result} result />
            </dl>
            <p class="small faint">{source}</p>
          </li>
        ))}
      </ol>
    </div>
  );
}

function Line({ quantity, result }: { quantity: Quantity; result?: boolean }) {
  return (
    <div class={result === true ? 'result' : undefined}>
      <dt>{quantity.name}</dt>
      <dd>{quantityWords(quantity)}</dd>
    </div>
  );
}

/** A value with its unit, at three digits. */
export function quantityWords({ value, unit }: Quantity): string {
  const words = typeof value === 'number' ? digits(value, 3) : value;
  return unit === '' ? words : `${words} ${unit}`;
}
