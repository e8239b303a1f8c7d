/** Any photograph as a picture of linear light: a raw developed, everything else read by its profile. */
import type { FinishStepsDocument } from '@tepal/formats';
import {
  decodeRendered,
  developCamera,
  type Developed,
  type FinishContext,
  type LinearPicture,
} from '@tepal/imaging';
import { openFrame, rgb16OfFrame } from '../decode/open-frame.ts';
import { bringUpright } from '../decode/pixels.ts';
import { rawLinear } from '../decode/raw-linear.ts';
import type { PhotographKind } from '../files/kinds.ts';
import { encodingOf } from './spaces.ts';

export interface SourcePicture {
  readonly picture: LinearPicture;
  readonly context: FinishContext;
  /** How a raw was developed; null for a picture that was rendered before. */
  readonly developed: Pick<Developed, 'highlights' | 'temperatureK' | 'balanceGuessed'> | null;
  readonly notes: readonly string[];
}

/**
 * Reads a photograph, upright.
 *
 * @param balance what is taken for white in a raw
 */
export async function openSource(
  path: string,
  kind: PhotographKind,
  balance: FinishStepsDocument['whiteBalance'] = { kind: 'asShot' },
): Promise<SourcePicture> {
  const frame = await openFrame(path, kind);
  if (kind !== 'raw') {
    const { picture, profile } = await rgb16OfFrame(frame);
    const { encoding, note } = encodingOf(profile);
    return {
      picture: decodeRendered(picture, encoding),
      context: { origin: 'rendered', noise: null },
      developed: null,
      notes: note === null ? [] : [note],
    };
  }
  const { camera, matrixFrom } = await rawLinear(frame.bytes);
  // Upright first: the place of a grey patch is that of the picture as it is seen.
  const upright = bringUpright(
    { width: camera.width, height: camera.height, data: camera.data },
    3,
    frame.orientation,
  );
  const { picture, highlights, temperatureK, balanceGuessed } = developCamera(
    { ...camera, ...upright },
    balance,
  );
  return {
    picture,
    context: { origin: 'camera', noise: null },
    developed: { highlights, temperatureK, balanceGuessed },
    notes: [
      ...(matrixFrom === 'none'
        ? ['The colours of this camera are not known; they were taken for those of sRGB.']
        : []),
      ...(balanceGuessed
        ? ['The file does not say what it was balanced for; daylight of 5500 K was taken.']
        : []),
    ],
  };
}
