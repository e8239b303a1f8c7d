/** The test shot with what was found on it: the point ringed, bright places outlined; two taps measure a known width. */
import { useSignal } from '@preact/signals';
import { magnificationOfLength } from '@tepal/science';
import { useWidth } from '../../app/use-width.ts';
import { lengthWords, ratioWords } from '../../words/amounts.ts';
import { Along } from '../controls/stepper.tsx';
import type { SetUpInputs } from '../question/inputs.ts';
import { steps } from '../question/steps.ts';
import type { ShotMeasures, ShotPoint } from './shot-messages.ts';

interface PictureProps {
  readonly address: string;
  readonly shot: ShotMeasures;
  readonly inputs: SetUpInputs;
  readonly onPoint: (point: ShotPoint) => void;
  readonly onMagnification: (magnification: number) => void;
}

/** One press of an arrow moves the point by so much of the frame. */
const keyStep = 0.02;

export function ShotPicture({ address, shot, inputs, onPoint, onMagnification }: PictureProps) {
  const { ref, width } = useWidth<HTMLDivElement>();
  const ends = useSignal<readonly ShotPoint[] | null>(null);
  const knownMm = useSignal(20);
  const height = (width.value * shot.heightPx) / shot.widthPx;
  const at = ({ x, y }: ShotPoint) => ({ x: x * width.value, y: y * height });
  const touch = (point: ShotPoint) => {
    if (ends.value === null) onPoint(point);
    else ends.value = ends.value.length === 2 ? [point] : [...ends.value, point];
  };
  const magnification = foundMagnification(ends.value, shot, inputs, knownMm.value);
  const ring = at(shot.point);
  return (
    <>
      <div class="shot" ref={ref}>
        <img src={address} alt="The test shot" />
        {width.value > 0 && (
          <svg
            width={width.value}
            height={height}
            role="group"
            aria-label="The point that must be sharp: tap it, or move it with the arrow keys"
            tabindex={0}
            onClick={(event) => {
              const box = event.currentTarget.getBoundingClientRect();
              touch({
                x: (event.clientX - box.left) / box.width,
                y: (event.clientY - box.top) / box.height,
              });
            }}
            onKeyDown={(event) => {
              const moved = movedBy(event.key, shot.point);
              if (moved === null) return;
              event.preventDefault();
              onPoint(moved);
            }}
          >
            {shot.distractions.map(({ box }, index) => (
              <g key={index} class="pull">
                <rect
                  x={box.x * width.value}
                  y={box.y * height}
                  width={box.width * width.value}
                  height={box.height * height}
                />
                <text x={box.x * width.value + 4} y={box.y * height + 16}>
                  {index + 1}
                </text>
              </g>
            ))}
            {shot.burnt.map(({ box }, index) => (
              <rect
                key={index}
                class="burnt"
                x={box.x * width.value}
                y={box.y * height}
                width={box.width * width.value}
                height={box.height * height}
              />
            ))}
            <circle class="ring-under" cx={ring.x} cy={ring.y} r={13} />
            <circle class="ring" cx={ring.x} cy={ring.y} r={13} />
            <path class="ring" d={`M${ring.x + 9.2} ${ring.y + 9.2}l12 12`} />
            {ends.value?.map((end) => (
              <circle key={`${end.x} ${end.y}`} class="width-end" cx={at(end).x} cy={at(end).y} r={6} />
            ))}
          </svg>
        )}
      </div>
      <div class="buttons">
        <button
          aria-pressed={ends.value !== null}
          onClick={() => (ends.value = ends.value === null ? [] : null)}
        >
          {ends.value === null ? 'Measure a known width on it' : 'Back to the point'}
        </button>
        {magnification !== null && (
          <button class="first" onClick={() => onMagnification(magnification)}>
            Take {ratioWords(magnification)}
          </button>
        )}
      </div>
      {ends.value !== null && (
        <>
          <p class="small">Tap both ends of something whose width you know, square to the view.</p>
          <div class="steppers">
            <Along
              name="the known width"
              hint="its width"
              value={knownMm.value}
              list={steps.fieldWidthMm}
              words={lengthWords}
              onSet={(mm) => (knownMm.value = mm)}
            />
          </div>
        </>
      )}
    </>
  );
}

/** The whole frame is taken to be in the file, whatever size it was written at. */
function foundMagnification(
  ends: readonly ShotPoint[] | null,
  { widthPx, heightPx }: ShotMeasures,
  { kit }: SetUpInputs,
  knownMm: number,
): number | null {
  const [a, b] = ends ?? [];
  if (a === undefined || b === undefined) return null;
  const px = Math.hypot((a.x - b.x) * widthPx, (a.y - b.y) * heightPx);
  const longMm = Math.max(kit.sensorWidthMm, kit.sensorHeightMm);
  const pixelUm = (1000 * longMm) / Math.max(widthPx, heightPx);
  return px < 1 ? null : magnificationOfLength(px, pixelUm, knownMm);
}

function movedBy(key: string, { x, y }: ShotPoint): ShotPoint | null {
  const within = (value: number) => Math.min(1, Math.max(0, value));
  switch (key) {
    case 'ArrowLeft':
      return { x: within(x - keyStep), y };
    case 'ArrowRight':
      return { x: within(x + keyStep), y };
    case 'ArrowUp':
      return { x, y: within(y - keyStep) };
    case 'ArrowDown':
      return { x, y: within(y + keyStep) };
    default:
      return null;
  }
}
