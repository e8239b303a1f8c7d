/** Frames of a ruler, kept on this device by the focal length of the lens. */
import type { RulerFrame } from '@tepal/science';

const keyOf = (focalLengthMm: number) => `tepal ruler ${focalLengthMm}`;

/** Those that were kept; what cannot be one is passed over. */
export function keptRulerFrames(focalLengthMm: number): readonly RulerFrame[] {
  try {
    const found: unknown = JSON.parse(localStorage.getItem(keyOf(focalLengthMm)) ?? '[]');
    return Array.isArray(found) ? found.filter(isRulerFrame) : [];
  } catch {
    return [];
  }
}

export function keepRulerFrames(focalLengthMm: number, frames: readonly RulerFrame[]): void {
  try {
    localStorage.setItem(keyOf(focalLengthMm), JSON.stringify(frames));
  } catch {
    // They hold for this visit only.
  }
}

function isRulerFrame(one: unknown): one is RulerFrame {
  if (typeof one !== 'object' || one === null) return false;
  const above0 = (name: string) => {
    const value: unknown = Reflect.get(one, name);
    return typeof value === 'number' && Number.isFinite(value) && value > 0;
  };
  return above0('focusDistanceMm') && above0('magnification');
}
