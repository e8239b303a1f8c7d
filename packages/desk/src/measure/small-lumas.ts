/** The small lumas that frames are registered by: half the survey's size, the last few kept. */
import {
  registerSimilarity,
  scaleSimilarity,
  type FloatImage,
  type Kernel,
  type Registration,
} from '@tepal/imaging';
import type { Library } from '../library/library.ts';
import { surveyFromBytes } from '../library/survey-bytes.ts';

/** A small luma and by how much it is smaller than the survey's. */
export interface SmallLuma {
  readonly image: FloatImage;
  readonly factor: 1 | 2;
}

export interface SmallLumas {
  /** @returns null when the library has it no longer */
  of(id: string): SmallLuma | null;
}

/** Neighbours are compared, then all with one: more need not be in memory. */
const MOST_KEPT = 64;
/** A side shorter than this is not halved [px]. */
const HALVED_FROM_PX = 160;

export function openSmallLumas(library: Library): SmallLumas {
  const kept = new Map<string, SmallLuma | null>();
  return {
    of(id) {
      const known = kept.get(id);
      if (known !== undefined) return known;
      const bytes = library.survey(id);
      const made = bytes === null ? null : reduced(surveyFromBytes(bytes).small);
      const oldest = kept.keys().next();
      if (kept.size >= MOST_KEPT && oldest.done !== true) kept.delete(oldest.value);
      kept.set(id, made);
      return made;
    },
  };
}

function reduced(image: FloatImage): SmallLuma {
  if (Math.min(image.width, image.height) < HALVED_FROM_PX) return { image, factor: 1 };
  const [width, height] = [image.width >> 1, image.height >> 1];
  const data = new Float32Array(width * height);
  for (let y = 0; y < height; y += 1) {
    for (let x = 0, at = 2 * y * image.width; x < width; x += 1, at += 2) {
      const below = at + image.width;
      data[y * width + x] =
        (image.data[at]! + image.data[at + 1]! + image.data[below]! + image.data[below + 1]!) / 4;
    }
  }
  return { image: { width, height, data }, factor: 2 };
}

/** Pixels compared: shifts come to a few hundredths of a pixel of the small lumas, what is carried to half a pixel. */
const SAMPLES = 6_000;

/** How one small luma lies on another, in pixels of the survey's. @throws DomainError when they are too small */
export function registerSmall(kernel: Kernel, reference: SmallLuma, moving: SmallLuma): Registration {
  const found = registerSimilarity(kernel, reference.image, moving.image, { samples: SAMPLES });
  return { ...found, ...scaleSimilarity(found, reference.factor), rmsPx: found.rmsPx * reference.factor };
}
