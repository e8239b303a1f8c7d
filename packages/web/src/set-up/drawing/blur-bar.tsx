/** What blurs it: one bar in pixels, each cause its share of the whole, against the limit of the delivery. */
import type { ExposeDocument } from '@tepal/formats';
import { useWidth } from '../../app/use-width.ts';
import { placeLabels } from '../../days/drawing/label-lanes.ts';
import { digits } from '../../words/amounts.ts';

const barTop = 14;
const barHeight = 26;

export function BlurBar({ advice, onOpen }: { advice: ExposeDocument; onOpen: () => void }) {
  const { ref, width } = useWidth<HTMLDivElement>();
  const { budget } = advice;
  const causes = blurShares(advice);
  const whole = Math.max(budget.totalPx, budget.limitPx) * 1.04;
  const scale = (width.value - 2) / whole;
  const largest = Math.max(...causes.map(({ share }) => share));
  let x = 0;
  const parts = causes.map((cause) => {
    const long = cause.share * budget.totalPx * scale;
    const part = { ...cause, x, long };
    x += long;
    return part;
  });
  const named = parts.filter(({ long }) => long > 3);
  const places = placeLabels(
    named.map(({ x: from, name }) => ({ x: from, width: name.length * 7.6 })),
    { from: 0, to: Math.max(60, width.value), gap: 12, drift: 26 },
  );
  const lanes = Math.max(0, ...places.map(({ lane }) => lane));
  const limitX = budget.limitPx * scale;
  return (
    <section aria-labelledby="blurs">
      <div class="part-head">
        <h2 id="blurs">What blurs it</h2>
        <button class="quiet small" onClick={onOpen}>
          {digits(budget.totalPx)} px, limit {digits(budget.limitPx)}
        </button>
      </div>
      <div ref={ref}>
        {width.value > 0 && (
          <svg
            class="blur-bar"
            width={width.value}
            height={barTop + barHeight + 24 + lanes * 18}
            role="img"
            aria-label={`${digits(budget.totalPx)} px at the edge of the subject, limit ${digits(budget.limitPx)} px: ${causes.map(({ name, share }) => `${name} ${Math.round(share * 100)} %`).join(', ')}`}
          >
            {parts.map(({ name, x: from, long, ink, share }) => (
              <rect
                key={name}
                x={from}
                y={barTop}
                width={Math.max(0, long - 1.5)}
                height={barHeight}
                style={{ opacity: share === largest ? 1 : ink }}
              />
            ))}
            <path class="limit" d={`M${limitX.toFixed(1)} ${barTop - 8}V${barTop + barHeight + 8}`} />
            {named.map(({ name }, index) => {
              const place = places[index];
              return place === undefined ? null : (
                <text key={name} x={place.x} y={barTop + barHeight + 18 + place.lane * 18}>
                  {name}
                </text>
              );
            })}
          </svg>
        )}
      </div>
      <p class="small faint">
        At the edge of the subject; {digits((budget.totalAtPointUm / budget.totalUm) * budget.totalPx)} px at
        the point of focus. The dotted line is what the print bears.
      </p>
    </section>
  );
}

/** The causes in the order of the light's way, each with its share of the variance: shares add up, widths do not. */
export function blurShares(advice: ExposeDocument) {
  const { diffractionUm, defocusUm, subjectMotionUm, cameraMotionUm, pixelUm, totalUm } = advice.budget;
  const share = (um: number) => um ** 2 / totalUm ** 2;
  return [
    { name: 'lens', share: share(diffractionUm), ink: 0.62 },
    { name: 'depth', share: share(defocusUm), ink: 0.5 },
    { name: 'plant', share: share(subjectMotionUm), ink: 0.42 },
    { name: 'hands', share: share(cameraMotionUm), ink: 0.34 },
    { name: 'pixel', share: share(pixelUm), ink: 0.26 },
  ];
}
