/**
 * Where a crop at 100 % lies. One pixel of the frame is one pixel of the screen, so what is asked of the engine
 * depends on the screen's pixel ratio; near the border of the frame the crop ends there and the grey shows.
 */

export interface FrameCrop {
  /** Centre of the crop, fractions of the oriented frame's width and height [0..1]. */
  readonly x: number;
  readonly y: number;
  /** Size of the crop [px of the frame]. */
  readonly width: number;
  readonly height: number;
  /** Where the crop's left top corner lies in the cell [CSS px], and its size there. */
  readonly leftCss: number;
  readonly topCss: number;
  readonly widthCss: number;
  readonly heightCss: number;
}

interface Size {
  readonly width: number;
  readonly height: number;
}

/**
 * The crop that shows a place of a frame in the middle of a cell.
 *
 * @param frame size of the oriented frame [px]
 * @param place what stands in the middle of the cell, fractions of the frame [0..1]
 * @param cell size of the cell [CSS px]
 * @param pixelRatio pixels of the screen for one CSS px, > 0
 * @returns the crop, never reaching beyond the frame, and where it is drawn in the cell
 */
export function cropAround(
  frame: Size,
  place: { readonly x: number; readonly y: number },
  cell: Size,
  pixelRatio: number,
): FrameCrop {
  const across = along(frame.width, place.x, cell.width, pixelRatio);
  const down = along(frame.height, place.y, cell.height, pixelRatio);
  return {
    x: across.centre,
    y: down.centre,
    width: across.size,
    height: down.size,
    leftCss: across.css,
    topCss: down.css,
    widthCss: across.size / pixelRatio,
    heightCss: down.size / pixelRatio,
  };
}

function along(framePx: number, fraction: number, cellCss: number, pixelRatio: number) {
  const wanted = Math.min(framePx, Math.round(cellCss * pixelRatio));
  const middle = fraction * framePx;
  const start = Math.max(0, Math.min(framePx - wanted, Math.round(middle - wanted / 2)));
  return {
    centre: (start + wanted / 2) / framePx,
    size: wanted,
    css: cellCss / 2 - (middle - start) / pixelRatio,
  };
}

/**
 * The place of a frame that lies under a point of the cell.
 *
 * @param frame size of the oriented frame [px]
 * @param middle what stands in the middle of the cell, fractions of the frame
 * @param offsetCss from the middle of the cell to the point [CSS px]
 * @param pixelRatio pixels of the screen for one CSS px, > 0
 * @returns fractions of the frame, kept inside it [0..1]
 */
export function placeUnder(
  frame: Size,
  middle: { readonly x: number; readonly y: number },
  offsetCss: { readonly x: number; readonly y: number },
  pixelRatio: number,
): { readonly x: number; readonly y: number } {
  const inside = (value: number) => Math.min(1, Math.max(0, value));
  return {
    x: inside(middle.x + (offsetCss.x * pixelRatio) / frame.width),
    y: inside(middle.y + (offsetCss.y * pixelRatio) / frame.height),
  };
}

/**
 * How many crops stand beside each other, and how wide each is.
 *
 * @param widthCss width of the row [CSS px]
 * @param smallestCss narrowest crop that can still be judged [CSS px]
 * @param gapCss between two crops [CSS px]
 * @returns at least one crop; whole CSS px, so that one pixel stays one pixel
 */
export function cropsAbreast(
  widthCss: number,
  smallestCss: number,
  gapCss: number,
): { readonly count: number; readonly sizeCss: number } {
  const count = Math.max(1, Math.floor((widthCss + gapCss) / (smallestCss + gapCss)));
  return { count, sizeCss: Math.max(1, Math.floor((widthCss - gapCss * (count - 1)) / count)) };
}
