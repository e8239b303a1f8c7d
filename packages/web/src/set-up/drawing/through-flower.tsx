/** Through the flower, at a stated scale: what is sharp of it, how far plant and hands travel, what the ground becomes. */
import type { ExposeDocument, Explained } from '@tepal/formats';
import { plantForeAndAftMm, STEMS, SUPPORT_MOTION, swayInWind } from '@tepal/science';
import { useWidth } from '../../app/use-width.ts';
import { lengthWords, oneDecimal, percent } from '../../words/amounts.ts';
import type { SetUpInputs } from '../question/inputs.ts';
import { flowerStrokes, scaleWords, sliceScale } from './flower-shape.ts';

/** A CSS px is 1/96 inch. */
const pxPerMm = 96 / 25.4;
const height = 168;
const flowerHeight = 116;

interface SliceProps {
  readonly advice: ExposeDocument;
  readonly inputs: SetUpInputs;
  readonly onOpen: (what: Explained) => void;
}

export function ThroughFlower({ advice, inputs, onOpen }: SliceProps) {
  const { ref, width } = useWidth<HTMLDivElement>();
  const { depthOfFieldMm } = advice.optics;
  const scale = sliceScale(inputs.subjectDepthMm, 84, pxPerMm);
  const px = (mm: number) => mm * scale * pxPerMm;
  const plantMm = plantTravelMm(inputs);
  const handsMm = SUPPORT_MOTION[inputs.support].foreAndAftMm;
  return (
    <section class="slice" aria-labelledby="through">
      <div class="part-head">
        <h2 id="through">Through the flower</h2>
        <span class="faint small">{scaleWords(scale)}</span>
      </div>
      <div ref={ref}>
        {width.value > 0 && (
          <svg
            width={width.value}
            height={height}
            role="img"
            aria-label={spoken(advice, inputs, plantMm, handsMm)}
          >
            <Ground advice={advice} inputs={inputs} />
            <Flower
              middleX={Math.max(150, width.value * 0.46)}
              depthPx={px(inputs.subjectDepthMm)}
              sharpPx={depthOfFieldMm === null ? null : px(depthOfFieldMm)}
              words={
                depthOfFieldMm === null ? 'sharp to the horizon' : `${oneDecimal(depthOfFieldMm)} mm sharp`
              }
            />
            <Travel
              x={width.value - 118}
              y={34}
              px={px(plantMm)}
              words={`plant ± ${oneDecimal(plantMm)} mm`}
            />
            <Travel
              x={width.value - 118}
              y={82}
              px={px(handsMm)}
              words={`hands ± ${oneDecimal(handsMm)} mm`}
            />
          </svg>
        )}
      </div>
      <p class="opens">
        <button class="quiet small" onClick={() => onOpen('depth')}>
          {depthOfFieldMm === null ? 'sharp to the horizon' : `${oneDecimal(depthOfFieldMm)} mm sharp`}
        </button>{' '}
        <button class="quiet small" onClick={() => onOpen('background')}>
          a point behind spreads over {percent(advice.background.shareOfFrameWidth)} of the frame
        </button>
      </p>
    </section>
  );
}

/** How far the plant goes to and fro along the view, by the wind or as it was watched across it. */
function plantTravelMm({ stem, windMs, swayAmplitudeMm, swayFrequencyHz }: SetUpInputs): number {
  // Watched sway goes across the view and is drawn as it was seen.
  if (swayAmplitudeMm !== null && swayFrequencyHz !== null) return swayAmplitudeMm;
  const { displacementMm, frequencyHz } = swayInWind(STEMS[stem], windMs);
  return plantForeAndAftMm({ kind: 'sway', displacementMm, frequencyHz });
}

/** What becomes of the background, against the frame. */
function Ground({ advice, inputs }: { advice: ExposeDocument; inputs: SetUpInputs }) {
  const frameW = 104;
  const frameH = (frameW * inputs.kit.sensorHeightMm) / inputs.kit.sensorWidthMm;
  const share = advice.background.shareOfFrameWidth;
  return (
    <g class="ground" transform="translate(0 26)">
      <clipPath id="frame-clip">
        <rect width={frameW} height={frameH} />
      </clipPath>
      <circle
        cx={frameW / 2}
        cy={frameH / 2}
        r={Math.max(0.6, (share * frameW) / 2)}
        class="disc"
        clip-path="url(#frame-clip)"
      />
      <rect width={frameW} height={frameH} class="frame-edge" />
      <text y={frameH + 20}>ground {lengthWords(inputs.backgroundMm)}</text>
      <text y={frameH + 37}>behind {groundWord(share)}</text>
    </g>
  );
}

/** By its disc against the frame; common practice, no source. */
function groundWord(share: number): string {
  if (share < 0.012) return 'still shows';
  return share < 0.035 ? 'softens' : 'melts';
}

function Flower(flower: { middleX: number; depthPx: number; sharpPx: number | null; words: string }) {
  const middle = { x: flower.middleX, y: 74 };
  const { florets, stem } = flowerStrokes(flower.depthPx, flowerHeight, middle);
  const room = 150;
  const sharp = Math.max(1.5, Math.min(flower.sharpPx ?? room, room));
  return (
    <g>
      <rect class="sharp-depth" x={middle.x - sharp / 2} y={8} width={sharp} height={134} />
      <path class="florets" d={florets.join('')} />
      <path class="stem" d={stem} />
      <path class="focus-plane" d={`M${middle.x} 8V142`} />
      <text class="sharp-words" x={middle.x + Math.min(sharp / 2, 40)} y={160} text-anchor="end">
        {flower.words}
      </text>
    </g>
  );
}

/** A stroke as long as the travel, to and fro, at the scale of the slice. */
function Travel({ x, y, px, words }: { x: number; y: number; px: number; words: string }) {
  const long = Math.min(108, Math.max(1, 2 * px));
  return (
    <g class="travel">
      <path d={`M${x} ${y}h${long.toFixed(1)}M${x} ${y - 5}v10M${(x + long).toFixed(1)} ${y - 5}v10`} />
      <text x={x} y={y + 22}>
        {words}
      </text>
    </g>
  );
}

function spoken(advice: ExposeDocument, inputs: SetUpInputs, plantMm: number, handsMm: number): string {
  const { depthOfFieldMm } = advice.optics;
  const depth = depthOfFieldMm === null ? 'everything' : `${oneDecimal(depthOfFieldMm)} mm`;
  const share = Math.round(advice.background.shareOfFrameWidth * 100);
  return `Of ${inputs.subjectDepthMm} mm depth ${depth} is sharp; the plant travels ${oneDecimal(plantMm)} mm either way, the hands ${oneDecimal(handsMm)} mm; a point of the background becomes a disc of ${share} % of the frame's width.`;
}
