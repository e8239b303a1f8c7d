/** A flower head seen from the side, facing the camera on the left, as deep as the subject is. */

/**
 * Its florets as strokes, from the receptacle forward and outward.
 *
 * @param depthPx from the foremost to the hindmost part
 * @param heightPx from the lowest to the highest part
 * @param middle.x middle of the depth
 * @param middle.y middle of the height
 * @returns paths of an SVG, the stem last
 */
export function flowerStrokes(
  depthPx: number,
  heightPx: number,
  middle: { readonly x: number; readonly y: number },
): { readonly florets: readonly string[]; readonly stem: string } {
  const back = middle.x + depthPx / 2;
  const front = middle.x - depthPx / 2;
  const count = 13;
  const florets = Array.from({ length: count }, (_, i) => {
    // From -1 at the lowest floret to 1 at the highest.
    const spread = (2 * i) / (count - 1) - 1;
    const side = Math.sign(spread);
    const out = Math.abs(spread);
    const tipX = front + depthPx * (0.78 * out ** 2.2 + (i % 2 === 0 ? 0 : 0.08));
    const tipY = middle.y + (spread * heightPx) / 2;
    const bendX = back - depthPx * 0.55;
    const bendY = middle.y + side * out ** 1.5 * heightPx * 0.46;
    return curve([back, middle.y + spread * 5], [bendX, bendY], [tipX, tipY]);
  });
  const bracts = [-1, 1].map((side) =>
    curve(
      [back, middle.y + side * 4],
      [back + 9, middle.y + side * heightPx * 0.2],
      [back - depthPx * 0.12, middle.y + side * heightPx * 0.36],
    ),
  );
  const foot = middle.y + heightPx / 2 + 32;
  return {
    florets: [...florets, ...bracts],
    stem: `M${back.toFixed(1)} ${middle.y.toFixed(1)}C${(back + 12).toFixed(1)} ${(middle.y + heightPx * 0.2).toFixed(1)} ${(back + 12).toFixed(1)} ${(foot - 16).toFixed(1)} ${(back + 10).toFixed(1)} ${foot.toFixed(1)}`,
  };
}

type Pair = readonly [number, number];

const curve = ([x0, y0]: Pair, [x1, y1]: Pair, [x2, y2]: Pair): string =>
  `M${x0.toFixed(1)} ${y0.toFixed(1)}Q${x1.toFixed(1)} ${y1.toFixed(1)} ${x2.toFixed(1)} ${y2.toFixed(1)}`;

/**
 * The scale of the slice: the largest of the usual ones at which the depth still fits.
 *
 * @param depthMm depth of the subject [mm]
 * @param roomPx room for it [px]
 * @param pxPerMm how many CSS px a millimetre of the page has
 * @returns times life size
 */
export function sliceScale(depthMm: number, roomPx: number, pxPerMm: number): number {
  const scales = [20, 10, 5, 3, 2, 1, 0.5, 0.2, 0.1];
  return scales.find((scale) => depthMm * scale * pxPerMm <= roomPx) ?? 0.1;
}

/** "twice life size", "half life size". */
export function scaleWords(scale: number): string {
  if (scale === 1) return 'life size';
  if (scale === 2) return 'twice life size';
  if (scale === 0.5) return 'half life size';
  return scale > 1 ? `${scale} times life size` : `1 : ${Math.round(1 / scale)}`;
}
