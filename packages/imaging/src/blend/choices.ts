/** Places of a blend that are to come from one frame: chosen by the photographer, kept as data. */

/** "This place from that frame": a disc of the reference. */
export interface BlendChoice {
  /** Centre [px of the reference, from its top-left pixel]. */
  readonly x: number;
  readonly y: number;
  /** Within it the frame is used alone [px], > 0; over half as much again it mixes with the others. */
  readonly radiusPx: number;
  /** The frame's number in the series. */
  readonly index: number;
}

/** What is left to the other frames: not nothing, for where the chosen one does not reach there is nothing else. */
const LEFT = 1e-6;

/**
 * Takes weight from a frame, in place, where another one was chosen.
 *
 * @param weights of one scale, w x h; sample (x, y) lies at `step` x (x, y) of the reference
 * @param index the frame whose weights these are
 */
export function applyChoices(
  weights: Float32Array,
  size: { readonly w: number; readonly h: number },
  step: number,
  choices: readonly BlendChoice[],
  index: number,
): void {
  const { w, h } = size;
  for (const choice of choices) {
    if (choice.index === index) continue;
    const inner = choice.radiusPx / step;
    const outer = Math.max(1.5 * inner, inner + 1);
    const [cx, cy] = [choice.x / step, choice.y / step];
    for (let y = Math.max(0, Math.ceil(cy - outer)); y <= Math.min(h - 1, cy + outer); y++) {
      for (let x = Math.max(0, Math.ceil(cx - outer)); x <= Math.min(w - 1, cx + outer); x++) {
        const distance = Math.hypot(x - cx, y - cy);
        if (distance >= outer) continue;
        const t = Math.max(0, (distance - inner) / (outer - inner));
        weights[y * w + x]! *= LEFT + (1 - LEFT) * t * t * (3 - 2 * t);
      }
    }
  }
}
