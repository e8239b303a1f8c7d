/** How a ribbon is read, in the ribbon's own strokes. */
import { hatch } from '../drawing/hatching.ts';

const sample = (illuminanceLux: number, diffuseShare: number) => (
  <svg width={64} height={26} aria-hidden="true">
    {hatch({ from: 2, to: 58, top: 2, bottom: 24 }, () => ({ illuminanceLux, diffuseShare })).map(
      ({ ink, path }) => (
        <path key={ink} d={path} class="hatch" style={{ opacity: ink }} />
      ),
    )}
  </svg>
);

export function RibbonKey() {
  return (
    <div class="key-words" role="note" aria-label="How the ribbons are read">
      <span>{sample(20_000, 1)}close and upright: soft light</span>
      <span>{sample(60_000, 0.28)}slanted and wide: hard light</span>
      <span>{sample(300, 1)}pale: dim</span>
      <span>The line is the wind at the flower, its roughness the gusts. Touch an hour to open it.</span>
    </div>
  );
}
