/** Exposure, white balance and tone: what is done to every pixel alike. */
import { requireInRange } from '@tepal/science';
import { IDENTITY, type Matrix3 } from '../colour/matrix.ts';
import { planesOf, turnColours, type LinearPicture } from '../develop/linear-picture.ts';

/** Mid-grey: the tone that contrast turns about. @source OI 2.3: 18 % */
export const MID_GREY = 0.18;

export interface Tone {
  /** Slope of the tones about mid-grey on logarithmic scales, 0.5 (flat) to 2 (hard); 1 leaves them. */
  readonly contrast?: number;
  /** Where the highlights begin to be rolled off, as a share of white: 1 not at all, 0.5 from half on. */
  readonly shoulderFrom?: number;
  /** What becomes white, in stops above it: the light that the shoulder makes room for, 0 to 4. */
  readonly headroomStops?: number;
}

/** All light scaled, and colours turned by a matrix, in place. */
export function changeLight(picture: LinearPicture, stops: number, matrix: Matrix3 | null = null): void {
  const k = 2 ** requireInRange('stops', stops, { what: 'an exposure', unit: 'stops', min: -10, max: 10 });
  if (k === 1 && matrix === null) return;
  turnColours(picture, (matrix ?? IDENTITY).map((value) => value * k) as unknown as Matrix3);
}

/**
 * The tone curve: contrast as a power about mid-grey, then straight up to the shoulder, then rolled off so that
 * `headroomStops` above white just becomes white.
 *
 *   y = s + (1 - s) (1 - (1 - t)^p),  t = (x - s) / (W - s),  p = (W - s) / (1 - s)
 *
 * with s where the shoulder begins and W the light that becomes white: it leaves s with slope 1, rises all the way,
 * and ends at 1. Above W it is 1.
 *
 * @returns light in, light out, both >= 0
 * @throws DomainError if a setting is out of its range
 */
export function toneCurve(tone: Tone): (light: number) => number {
  const contrast = requireInRange('contrast', tone.contrast ?? 1, { min: 0.5, max: 2 });
  const s = requireInRange('shoulderFrom', tone.shoulderFrom ?? 1, { min: 0.1, max: 1 });
  const W = 2 ** requireInRange('headroomStops', tone.headroomStops ?? 0, { unit: 'stops', min: 0, max: 4 });
  const bent = s < 1 && W > 1;
  const p = (W - s) / (1 - s);
  return (light) => {
    if (!(light > 0)) return 0;
    const x = contrast === 1 ? light : MID_GREY * (light / MID_GREY) ** contrast;
    if (!bent || x <= s) return x;
    if (x >= W) return 1;
    return s + (1 - s) * (1 - (1 - (x - s) / (W - s)) ** p);
  };
}

/** Places in the curve's table, and the light it ends at. */
const STEPS = 8192;
const MOST = 64;

/**
 * The tone curve applied in place: each pixel is scaled as its largest channel asks, so that the ratios of its
 * channels, and with them its hue, stay.
 *
 * A saturated colour is as bright as its strongest channel here; that keeps the shading of a red petal, whose red
 * alone is near white.
 */
export function applyTone(picture: LinearPicture, tone: Tone): void {
  const { contrast = 1, shoulderFrom = 1, headroomStops = 0 } = tone;
  const curve = toneCurve(tone);
  if (contrast === 1 && (shoulderFrom === 1 || headroomStops === 0)) return;
  // A table over the fourth root of light: fine in the darks, with an end beyond every shoulder.
  const top = MOST ** 0.25;
  const gains = Float32Array.from({ length: STEPS + 2 }, (_, i) => {
    const light = ((Math.max(0.5, i) / STEPS) * top) ** 4;
    return curve(light) / light;
  });
  const [red, green, blue] = planesOf(picture);
  for (let i = 0; i < red.length; i += 1) {
    const most = Math.max(red[i]!, green[i]!, blue[i]!);
    if (!(most > 0)) continue;
    const at = Math.min(STEPS, (Math.sqrt(Math.sqrt(most)) / top) * STEPS);
    const j = Math.trunc(at);
    const gain = most > MOST ? curve(most) / most : gains[j]! + (gains[j + 1]! - gains[j]!) * (at - j);
    red[i] = red[i]! * gain;
    green[i] = green[i]! * gain;
    blue[i] = blue[i]! * gain;
  }
}
