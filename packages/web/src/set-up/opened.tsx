/** A number opened: its reason, its equations with their sources, and the numbers that went in. */
import type { Explanation } from './explanations.ts';

export function Opened({ explanation, onClose }: { explanation: Explanation; onClose: () => void }) {
  const { title, words, equations, numbers } = explanation;
  return (
    <div class="opened" role="region" aria-label={title}>
      <div class="part-head">
        <h2>{title}</h2>
        <button class="quiet" onClick={onClose}>
          Close
        </button>
      </div>
      {words.map((sentence) => (
        <p key={sentence}>{sentence}</p>
      ))}
      <dl>
        {numbers.map(([name, value]) => (
          <div key={name}>
            <dt>{name}</dt>
            <dd>{value}</dd>
          </div>
        ))}
      </dl>
      <ul class="equations">
        {equations.map(({ name, form, source }) => (
          <li key={name}>
            {name}: <span class="form">{form}</span> <span class="faint">({source})</span>
          </li>
        ))}
      </ul>
    </div>
  );
}
