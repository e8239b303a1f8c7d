/** The size that a picture will have upright and after its steps, without decoding its pixels. */
import type { Sides } from '@tepal/advice';
import type { FinishStepsDocument } from '@tepal/formats';
import { framedSize } from '@tepal/imaging';
import { openFrame } from '../decode/open-frame.ts';
import { isTurned } from '../decode/pixels.ts';
import { sharpHeader } from '../decode/sharp-decoder.ts';
import type { PhotographKind } from '../files/kinds.ts';

export async function uprightSize(
  path: string,
  kind: PhotographKind,
  steps: FinishStepsDocument | null,
): Promise<Sides> {
  const frame = await openFrame(path, kind);
  const { width, height } = frame.raw?.header ?? (await sharpHeader(frame.bytes));
  const upright = isTurned(frame.orientation) ? { width: height, height: width } : { width, height };
  return framedSize(upright, steps?.framing ?? {});
}
