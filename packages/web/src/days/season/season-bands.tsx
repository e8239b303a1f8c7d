/** When each subject is out: a band over the year, today on it, and how sure it is. */
import type { SubjectSeason } from '../compute/worker-messages.ts';
import { dayOfYearShare } from './year-axis.ts';

const months = ['J', 'F', 'M', 'A', 'M', 'J', 'J', 'A', 'S', 'O', 'N', 'D'];
const width = 360;
const height = 26;

export function SeasonBands({ seasons, nowMs }: { seasons: readonly SubjectSeason[]; nowMs: number }) {
  if (seasons.length === 0) return null;
  const bands = (
    <ul class="seasons">
      {seasons.map((season) => (
        <li key={season.subjectId}>
          <span class="season-name">{season.name}</span>
          <Band season={season} nowMs={nowMs} />
          <span class="faint small">{season.sentences.slice(0, 2).join(' ')}</span>
        </li>
      ))}
    </ul>
  );
  if (seasons.length > 5) {
    return (
      <details class="folded">
        <summary>When {seasons.length} subjects are out</summary>
        {bands}
      </details>
    );
  }
  return (
    <section aria-labelledby="seasons">
      <h2 id="seasons">When they are out</h2>
      {bands}
    </section>
  );
}

function Band({ season, nowMs }: { season: SubjectSeason; nowMs: number }) {
  const { curve, peak, name } = season;
  const step = width / curve.length;
  const top = (value: number) => height - value * (height - 4);
  const outline = curve.map((value, at) => `L${(at * step).toFixed(1)} ${top(value).toFixed(1)}`).join('');
  const peakX = peak === null ? 0 : (peak.day / 366) * width;
  const doubt = peak === null ? 0 : (peak.bandDays / 366) * width;
  return (
    <svg
      class="season"
      viewBox={`0 0 ${width} ${height + 16}`}
      role="img"
      aria-label={`${name} over the year: ${season.sentences[0] ?? ''}`}
    >
      <path class="season-band" d={`M0 ${height}${outline}L${width} ${height}Z`} />
      <path class="hairline" d={`M0 ${height}H${width}`} />
      {peak !== null && (
        <path
          class="season-peak"
          d={`M${(peakX - doubt).toFixed(1)} 3H${(peakX + doubt).toFixed(1)}M${peakX.toFixed(1)} 0v6`}
        />
      )}
      <path class="season-today" d={`M${(dayOfYearShare(nowMs) * width).toFixed(1)} 0V${height}`} />
      {months.map((month, at) => (
        <text key={at} x={((at + 0.5) / 12) * width} y={height + 13} text-anchor="middle">
          {month}
        </text>
      ))}
    </svg>
  );
}
