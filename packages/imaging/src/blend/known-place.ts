/** A frame's place as a blend found it, so that the series can be blended again without registering. */
import type { DisplacementGrid } from '../register/displacement.ts';
import type { Similarity } from '../register/similarity.ts';

/** Frame to reference about the frame's centre [px], and what moved beside it. */
export interface KnownPlace extends Similarity {
  /** Nodes of the reference, added to those of the similarity [px of the frame]; null or left out where nothing moved. */
  readonly local?: DisplacementGrid | null;
}

/**
 * Adds a field to a grid of another spacing or of a part of the picture.
 *
 * @param factor the field is multiplied by it
 * @param part top left of the grid in the field's picture [px]; none unless given
 */
export function addField(
  grid: DisplacementGrid,
  field: DisplacementGrid,
  factor: number,
  part: { readonly left: number; readonly top: number } = { left: 0, top: 0 },
): void {
  for (let row = 0, at = 0; row < grid.rows; row++) {
    const y = Math.max(0, Math.min(field.rows - 1.0001, (part.top + row * grid.cellPx) / field.cellPx));
    const r = Math.floor(y);
    for (let column = 0; column < grid.columns; column++, at++) {
      const x = Math.max(
        0,
        Math.min(field.columns - 1.0001, (part.left + column * grid.cellPx) / field.cellPx),
      );
      const c = Math.floor(x);
      const from = r * field.columns + c;
      const read = (d: Float32Array): number => {
        const above = d[from]! + (x - c) * (d[from + 1]! - d[from]!);
        const below =
          d[from + field.columns]! + (x - c) * (d[from + field.columns + 1]! - d[from + field.columns]!);
        return above + (y - r) * (below - above);
      };
      grid.dx[at]! += factor * read(field.dx);
      grid.dy[at]! += factor * read(field.dy);
    }
  }
}
