/** Pixels in, pixels or measures out: survey, measure, align, blend. */

export { loadKernel, type Kernel } from './kernel.ts';
export { toFloat, type FloatImage, type LumaImage, type Rgb16Image, type Rgb8Image } from './image.ts';

// What one look at every pixel leaves.
export { surveyFrame, type FrameSurvey } from './survey/survey-frame.ts';
export { guessPoint } from './survey/guess-point.ts';
export { clipping, clutter, evennessStops, type Clipping } from './survey/exposure-at-point.ts';

// How frames lie on one another.
export { registerSimilarity, type Registration } from './register/register-similarity.ts';
export {
  carryPoint,
  invertSimilarity,
  scaleSimilarity,
  stillness,
  type Similarity,
} from './register/similarity.ts';

// A focus series in one picture.
export {
  createBlendSession,
  type Blend,
  type BlendedFrame,
  type BlendProgress,
  type BlendSession,
} from './blend/blend-session.ts';
export { type BlendGap } from './blend/gaps.ts';

// How blurred a place is, and by what.
export { measureBlurAlone } from './blur/measure-alone.ts';
export { measureBlurInSeries, type SeriesBlur } from './blur/measure-in-series.ts';
export { whoMoved, type BlurCause, type BlurMotion, type MeasuredBlur } from './blur/measured-blur.ts';

// Truth to hold measures against: photographs blurred, moved and made noisy by known amounts.
export { renderBlur, renderDrift, renderNoise, seeded } from './rendered/render-blur.ts';
export { renderFocusSeries, type RenderedFocusFrame } from './rendered/render-focus-series.ts';
export { transferOf, worstSigmaPx, type RenderedBlur } from './rendered/transfer.ts';
