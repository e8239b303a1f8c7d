/** How large a delivery becomes: never larger than the picture, and what its true resolution is. */
import { requirePositive } from '@tepal/science';

export interface Sides {
  readonly width: number;
  readonly height: number;
}

/** The largest size of the picture's proportions within a box and within the picture itself [px]. */
export function sizeWithin(picture: Sides, box: Sides): Sides {
  const factor = Math.min(1, box.width / picture.width, box.height / picture.height);
  return {
    width: Math.max(1, Math.round(picture.width * factor)),
    height: Math.max(1, Math.round(picture.height * factor)),
  };
}

/** A sheet turned where the picture stands the other way. */
export function turnedFor(picture: Sides, sheet: Sides): Sides {
  const turned = picture.width >= picture.height !== sheet.width >= sheet.height;
  return turned ? { width: sheet.height, height: sheet.width } : sheet;
}

export interface PrintSize {
  /** Of the file [px]. */
  readonly size: Sides;
  /** Of the picture on the paper, within the sheet [mm]. */
  readonly onPaperMm: Sides;
  /** True pixels per inch on the paper. */
  readonly ppi: number;
  /** The resolution that the eye can use at the viewing distance [ppi]. */
  readonly usefulPpi: number;
  /** What the photographer should know; null where nothing. */
  readonly note: string | null;
}

/**
 * The pixels of a print: as many as asked for, or the picture's own where it has fewer.
 *
 * @param picture [px]
 * @param print.sheetMm in either orientation; the picture fills it as far as its proportions allow
 * @param print.ppi pixels per inch that are not exceeded
 * @param print.viewingDistanceMm from eye to print
 * @throws DomainError if a side, the resolution or the distance is not positive
 * @source OI 8.5: 20/20 parts 1 arc minute, one pixel
 */
export function printSize(
  picture: Sides,
  print: { readonly sheetMm: Sides; readonly ppi: number; readonly viewingDistanceMm: number },
): PrintSize {
  const sheet = turnedFor(picture, print.sheetMm);
  requirePositive('sheetMm.width', sheet.width, 'mm');
  requirePositive('sheetMm.height', sheet.height, 'mm');
  const wanted = requirePositive('ppi', print.ppi);
  const distance = requirePositive('viewingDistanceMm', print.viewingDistanceMm, 'mm');
  const mmPerPixel = Math.min(sheet.width / picture.width, sheet.height / picture.height);
  const own = 25.4 / mmPerPixel;
  const onPaperMm = {
    width: Math.round(picture.width * mmPerPixel * 10) / 10,
    height: Math.round(picture.height * mmPerPixel * 10) / 10,
  };
  const usefulPpi = 25.4 / (distance * Math.tan(Math.PI / 180 / 60));
  const factor = Math.min(1, wanted / own);
  const size = {
    width: Math.max(1, Math.round(picture.width * factor)),
    height: Math.max(1, Math.round(picture.height * factor)),
  };
  const ppi = Math.round(Math.min(own, wanted) * 10) / 10;
  if (own >= wanted) return { size, onPaperMm, ppi, usefulPpi, note: null };
  const enough = own >= usefulPpi;
  return {
    ...{ size, onPaperMm, ppi, usefulPpi },
    note:
      `At ${Math.round(onPaperMm.width)} × ${Math.round(onPaperMm.height)} mm it has ${Math.floor(own)} pixels per inch, not ${wanted}; it was not enlarged. ` +
      (enough
        ? `From ${distance} mm that is still more than the eye parts (${Math.round(usefulPpi)}).`
        : `From ${distance} mm the eye parts ${Math.round(usefulPpi)}; it looks as sharp at ${Math.round((onPaperMm.width * own) / usefulPpi)} × ${Math.round((onPaperMm.height * own) / usefulPpi)} mm.`),
  };
}
