/** What a followed sway means, in sentences. */
import type { SwayDocument } from '@tepal/formats';
import type { WatchedPath } from '@tepal/science';

const digits = (value: number) => String(Number(value.toPrecision(2)));
const range = ([low, high]: readonly [number, number]) => `${digits(low)} to ${digits(high)}`;

/** @returns the reasons and cautions of a document */
export function wordsOfSway(
  document: Omit<SwayDocument, 'reasons' | 'cautions'>,
  path: WatchedPath,
): Pick<SwayDocument, 'reasons' | 'cautions'> {
  return { reasons: reasonsOf(document, path), cautions: cautionsOf(document, path) };
}

function reasonsOf(
  { displacement, speedPerS }: Omit<SwayDocument, 'reasons' | 'cautions'>,
  path: WatchedPath,
) {
  if (path.kind === 'none') return [WHY_NONE[path.why]];
  if (path.kind === 'ambiguous') {
    return [
      `The frames are too rare for this swing: ${path.candidatesHz.map(digits).join(', ')} Hz would look the same at these moments. Take them faster, or at uneven times.`,
    ];
  }
  const spread = displacement?.processMm ?? displacement?.processPx;
  const speed = speedPerS?.processMm ?? speedPerS?.processPx;
  const unit = displacement?.processMm ? 'mm' : 'px';
  return [
    ...(spread && speed
      ? [
          `In this wind it would sway by ${range(spread)} ${unit} (standard deviation) at ${range(path.process.frequencyHz.interval90)} Hz, ${range(speed)} ${unit}/s, nine times in ten: so short a watch tells no more.`,
        ]
      : []),
  ];
}

const WHY_NONE = {
  tooFewFrames: 'Fewer than 8 frames show the flower: no swing can be told from them.',
  tooShort: 'Not two whole swings were seen: watch it for longer.',
  noSwing: 'No swing stands out of the errors of measuring.',
};

function cautionsOf(
  { against, frames }: Omit<SwayDocument, 'reasons' | 'cautions'>,
  path: WatchedPath,
): string[] {
  const lost = frames.filter(({ xPx }) => xPx === null).length;
  return [
    ...(against === 'surroundings'
      ? []
      : ['The surroundings have too little structure: the camera’s own motion is part of the sway here.']),
    ...(path.kind === 'swing' && path.lookAlikesHz.length > 0
      ? [
          `Evenly timed frames would show a swing of ${path.lookAlikesHz.map(digits).join(' or ')} Hz alike; the slowest is taken.`,
        ]
      : []),
    ...(path.shareAlong < 0.8
      ? ['It swings in more than one direction; the numbers are of the widest.']
      : []),
    ...(lost > 0 ? [`The flower was not found again in ${lost} frames.`] : []),
    'What it moves towards the camera and away is not seen.',
  ];
}
