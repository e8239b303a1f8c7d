/** A small sharp picture that grows with the series: what the next frame is laid upon. */
import type { Kernel } from '../kernel.ts';
import { layGrid, type DisplacementGrid } from '../register/displacement.ts';
import type { SimilarityTerms } from '../register/similarity.ts';

/**
 * The running composite of a series at the size of the working copies: at each pixel the mean of the frames so far,
 * each by the fourth power of its local energy of detail.
 *
 * The end of a deep series shares no sharp place with the reference, but it does with its neighbours, which lie in the
 * composite already. Uses three planes of the kernel's stack, which go with the session.
 */
export class Composite {
  private readonly sum: number;
  private readonly weight: number;
  readonly picture: number;
  private readonly row: number;

  constructor(
    private readonly kernel: Kernel,
    readonly width: number,
    readonly height: number,
  ) {
    const bytes = width * height * 4 + 32;
    this.sum = kernel.allocate(bytes);
    this.weight = kernel.allocate(bytes);
    this.picture = kernel.allocate(bytes);
    this.row = kernel.allocate((width + 64) * 4);
  }

  /**
   * Adds a frame's luma.
   *
   * @param luma pointer to its plane; @param size of it [px]
   * @param grid where the composite's pixels lie in it; @param terms the similarity nearest to it
   * @param gain to the reference's brightness; @param covering true for the reference, which covers everything
   */
  add(
    luma: number,
    size: { readonly width: number; readonly height: number },
    place: { readonly grid: DisplacementGrid; readonly terms: SimilarityTerms; readonly gain: number },
    covering: boolean,
  ): void {
    const { kernel, width: w, height: h, row } = this;
    const { run } = kernel;
    const mark = kernel.mark();
    const { grid, terms } = place;
    const warped = kernel.reserve(w * h * 4 + 32);
    const detail = kernel.reserve(w * h * 4 + 32);
    const energy = kernel.reserve(w * h * 4 + 32);
    const half = kernel.reserve(((w + 1) >> 1) * ((h + 1) >> 1) * 4 + 32);
    const nodes = layGrid(kernel, grid);
    run.warpPlane(
      luma,
      size.width,
      size.height,
      nodes,
      grid.cellPx,
      grid.columns,
      grid.rows,
      place.gain,
      warped,
      w,
      h,
    );
    run.reduce(warped, w, h, half, row);
    run.addExpanded(warped, w, h, half, -1, detail, row);
    run.energy(detail, w, h, 0, energy, row);
    const { a, b, x, y } = terms;
    run.weigh(energy, w, h, 1, 0.25, a, b, x, y, size.width, size.height, covering ? 0 : 4);
    run.addWeighted(this.sum, energy, warped, w * h);
    run.addPlane(this.weight, energy, w * h);
    kernel.float32(this.picture, w * h).set(kernel.float32(this.sum, w * h));
    run.divide(this.picture, this.weight, w * h);
    kernel.release(mark);
  }
}
