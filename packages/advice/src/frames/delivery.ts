/** Deliveries, and how soft a frame may be for each. */
import { limitUm, requireInRange, requirePositive } from '@tepal/science';

/** What a picture is delivered as, and from where it is looked at. */
export interface Delivery {
  /** "A3", "A4", "projection", or its size. */
  readonly name: string;
  /** In a sentence: "an A3 print". */
  readonly inWords: string;
  /** Longer and shorter side of what is looked at [mm]. */
  readonly longSideMm: number;
  readonly shortSideMm: number;
  readonly viewingDistanceMm: number;
  /** Box that the picture is reduced to first [px]; null where every pixel of the frame is used. */
  readonly boxPx: { readonly long: number; readonly short: number } | null;
}

/** Pixels of a frame, after orientation. */
export interface FrameSize {
  readonly widthPx: number;
  readonly heightPx: number;
}

/**
 * The deliveries that a frame is judged for, the most demanding first.
 *
 * A3 at 300 mm is the contract's default. A4 is looked at from a little nearer, 250 mm. The projection is a club's:
 * fitted into 1600 x 1200 px, thrown 2 m wide and seen from the front rows, 4 m away (common practice, no source).
 */
export const DELIVERIES: readonly Delivery[] = [
  {
    name: 'A3',
    inWords: 'an A3 print',
    longSideMm: 420,
    shortSideMm: 280,
    viewingDistanceMm: 300,
    boxPx: null,
  },
  {
    name: 'A4',
    inWords: 'an A4 print',
    longSideMm: 297,
    shortSideMm: 198,
    viewingDistanceMm: 250,
    boxPx: null,
  },
  {
    name: 'projection',
    inWords: 'projection',
    longSideMm: 2000,
    shortSideMm: 1500,
    viewingDistanceMm: 4000,
    boxPx: { long: 1600, short: 1200 },
  },
];

/**
 * A print of a size of one's own.
 *
 * @param size.widthMm, size.heightMm sides in either order [mm], > 0
 * @param size.viewingDistanceMm from eye to print [mm], > 0
 * @throws DomainError if one is not positive
 */
export function printOfSize(size: {
  readonly widthMm: number;
  readonly heightMm: number;
  readonly viewingDistanceMm: number;
}): Delivery {
  const width = requirePositive('widthMm', size.widthMm, 'mm');
  const height = requirePositive('heightMm', size.heightMm, 'mm');
  const name = `${String(width)} x ${String(height)} mm`;
  return {
    name,
    inWords: `a print of ${name}`,
    longSideMm: Math.max(width, height),
    shortSideMm: Math.min(width, height),
    viewingDistanceMm: requirePositive('viewingDistanceMm', size.viewingDistanceMm, 'mm'),
    boxPx: null,
  };
}

/**
 * The largest blur with which a frame still counts as sharp at a delivery: science's limit, with the pixel as its unit
 * of length. The frame fills the delivery, turned where that fits better. Where the picture is reduced to a box of
 * pixels first, the floor is one pixel of the reduced picture, for nothing finer is shown.
 *
 * @returns sigma along one axis [px of the frame], at least 1
 * @throws DomainError if a side is not positive
 * @source Tepal's contract, "what blur means": the 0.2 mm disc at 25 cm of old, as a sigma
 */
export function deliveryLimitPx(frame: FrameSize, delivery: Delivery): number {
  const { long, short } = sides(frame);
  const micrometrePixels = {
    sensorWidthMm: long / 1000,
    sensorHeightMm: short / 1000,
    widthPx: long,
    heightPx: short,
  };
  const eyePx = limitUm(micrometrePixels, {
    widthMm: delivery.longSideMm,
    heightMm: delivery.shortSideMm,
    viewingDistanceMm: delivery.viewingDistanceMm,
  });
  const box = delivery.boxPx;
  const reducedPixelPx = box === null ? 1 : Math.max(1, long / box.long, short / box.short);
  return Math.max(eyePx, reducedPixelPx);
}

/**
 * The most demanding delivery that a frame is sharp enough for. It says nothing of the number of pixels: see
 * `printResolutionPpi`.
 *
 * @param sigmaPx measured blur, or null where it could not be measured
 * @returns null where it is too soft for all, or not known
 * @throws DomainError if the sigma is negative or not finite
 */
export function largestDelivery(frame: FrameSize, sigmaPx: number | null): Delivery | null {
  if (sigmaPx === null) return null;
  requireInRange('sigmaPx', sigmaPx, { what: 'a blur', unit: 'px', min: 0 });
  return DELIVERIES.find((delivery) => sigmaPx <= deliveryLimitPx(frame, delivery)) ?? null;
}

/** Pixels of the frame on each inch of a print of the whole frame, unenlarged: the honest resolution [ppi]. */
export function printResolutionPpi(frame: FrameSize, delivery: Delivery): number {
  const { long, short } = sides(frame);
  return 25.4 * Math.max(long / delivery.longSideMm, short / delivery.shortSideMm);
}

/** Pixels per inch that stand a look from 25 cm: 70 px/cm. @source ISO 12232 standard view, in OI 8.5 and E-17 */
const STANDARD_VIEW_PPI = 178;
const STANDARD_VIEW_MM = 250;

/**
 * The resolution of a print as a caution: a small frame can be sharp to its last pixel and still print coarse.
 *
 * @returns "at 91 ppi" where the whole frame, printed so, has fewer pixels than its viewing distance asks for; else null
 */
export function coarsePrintInWords(frame: FrameSize, delivery: Delivery): string | null {
  if (delivery.boxPx !== null) return null;
  const ppi = printResolutionPpi(frame, delivery);
  const enough = (STANDARD_VIEW_PPI * STANDARD_VIEW_MM) / delivery.viewingDistanceMm;
  return ppi < enough ? `at ${String(Math.round(ppi))} ppi` : null;
}

/** What a frame is sharp enough for, as it stands under its crop: "A3", or "A3 at 91 ppi". */
export function deliveryInWords(frame: FrameSize, delivery: Delivery): string {
  return [delivery.name, coarsePrintInWords(frame, delivery)].filter((part) => part !== null).join(' ');
}

function sides(frame: FrameSize): { long: number; short: number } {
  const width = requirePositive('widthPx', frame.widthPx, 'px');
  const height = requirePositive('heightPx', frame.heightPx, 'px');
  return { long: Math.max(width, height), short: Math.min(width, height) };
}
