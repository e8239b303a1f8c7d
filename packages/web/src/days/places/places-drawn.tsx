/** Which places are drawn: one line each with its best hours, the best first. */
import type { Overview, SiteSummary } from '../compute/worker-messages.ts';
import { ageWords } from '../../words/clock.ts';
import { whenWords } from '../answer/hours-list.tsx';

/** The sites in the order of their best hours; those without a window, then those without a forecast, last. */
export function sitesInOrder({ sites }: Overview): readonly SiteSummary[] {
  const place = ({ best, forecast }: SiteSummary) => best?.rank ?? (forecast === null ? 1e9 : 1e6);
  return sites.toSorted((a, b) => place(a) - place(b));
}

interface DrawnProps {
  readonly overview: Overview;
  readonly drawn: readonly string[];
  readonly clockMin: number | null;
  readonly nameOf: (wantedId: string) => string;
  readonly onDrawn: (siteIds: readonly string[]) => void;
}

/** Up to so many places stand open in the list. */
const fewSites = 4;

export function PlacesDrawn({ overview, drawn, clockMin, nameOf, onDrawn }: DrawnProps) {
  const sites = sitesInOrder(overview);
  if (sites.length < 2) return null;
  const rows = (
    <ul class="list drawn-list">
      {sites.map((site) => (
        <li key={site.siteId}>
          <label>
            <input
              type="checkbox"
              checked={drawn.includes(site.siteId)}
              disabled={site.forecast === null}
              onChange={(event) =>
                onDrawn(
                  event.currentTarget.checked
                    ? [...drawn, site.siteId]
                    : drawn.filter((id) => id !== site.siteId),
                )
              }
            />
            <span class="place-name">{site.siteName}</span>
          </label>
          <span class="faint small">{summaryWords(site, clockMin, nameOf)}</span>
        </li>
      ))}
    </ul>
  );
  if (sites.length <= fewSites) {
    return (
      <section aria-labelledby="drawn-places">
        <h2 id="drawn-places">Drawn below</h2>
        {rows}
      </section>
    );
  }
  return (
    <details class="folded">
      <summary>
        {drawn.length} of {sites.length} places drawn below; choose others
      </summary>
      {rows}
    </details>
  );
}

function summaryWords(
  { best, forecast, fault, offsetMin }: SiteSummary,
  clockMin: number | null,
  nameOf: (wantedId: string) => string,
): string {
  if (forecast === null) return fault ?? 'no forecast yet';
  const age = forecast.ageH === null ? '' : ` · forecast ${ageWords(forecast.ageH)}`;
  if (best === null) return `no hour suits a wanted picture${age}`;
  return `best ${whenWords(best, clockMin ?? offsetMin)}, ${nameOf(best.wanted)}${age}`;
}
