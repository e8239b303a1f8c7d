/** A window opened: every factor that was weighed, its sentence, and the wait for a lull. */
import type { FoundWindow } from '@tepal/advice';
import { digits } from '../../words/amounts.ts';
import { lullWords } from '../ribbon/lull-words.ts';

/** How a factor's value is said; the bounds are the page's own. */
function valueWords(value: number): string {
  if (value >= 0.9) return 'as wished';
  if (value >= 0.6) return 'good';
  return value >= 0.3 ? 'fair' : 'poor';
}

export function WhyWindow({ window, title }: { window: FoundWindow; title: string | null }) {
  const { factors, lull, hints, part } = window;
  return (
    <div class="why">
      {title !== null && <h3>{title}</h3>}
      <table>
        <thead class="unseen">
          <tr>
            <th scope="col">Factor</th>
            <th scope="col">How good</th>
            <th scope="col">Why</th>
          </tr>
        </thead>
        <tbody>
          {factors
            .toSorted((a, b) => a.value - b.value)
            .map(({ name, value, why }) => (
              <tr key={name}>
                <th scope="row">{name}</th>
                <td>
                  {valueWords(value)} <span class="faint">({digits(value)} of 1)</span>
                </td>
                <td>{why}</td>
              </tr>
            ))}
        </tbody>
      </table>
      <p class="faint small">The hours are as good as the weakest of these.</p>
      {part === null && lull !== null && <p class="small">{lullWords(lull)}</p>}
      {hints.map((hint) => (
        <p class="small" key={hint}>
          {hint}
        </p>
      ))}
    </div>
  );
}
