/** Pixels in, pixels or measures out: survey, measure, align, blend. */

export { loadKernel, type Kernel } from './kernel.ts';
export { toFloat, type FloatImage, type LumaImage, type Rgb16Image, type Rgb8Image } from './image.ts';
export { cropOfRgba, lumaOfRgba, type Rgba8Image } from './rgba.ts';

// What one look at every pixel leaves.
export { surveyFrame, type FrameSurvey } from './survey/survey-frame.ts';
export { guessPoint } from './survey/guess-point.ts';
export { subjectRegion, type FrameBox, type FrameSide, type SubjectRegion } from './survey/subject-region.ts';
export { brightSpots, type BrightSpot } from './survey/bright-spots.ts';
export { burntByLuma, burntFromLuma, type BurntByLuma } from './survey/burnt-by-luma.ts';
export { lessExposure, lessToKeep, type LessExposure } from './survey/less-exposure.ts';
export {
  clipping,
  clutter,
  evennessOfLuma,
  evennessStops,
  type Clipping,
} from './survey/exposure-at-point.ts';

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
export { type BlendChoice } from './blend/choices.ts';
export { type BlendFallback } from './blend/fallback.ts';
export { type KnownPlace } from './blend/known-place.ts';
export { candidateCrop, type CandidateCrop } from './blend/candidates.ts';

// How blurred a place is, and by what.
export { measureBlurAlone } from './blur/measure-alone.ts';
export { measureBlurInSeries, type SeriesBlur } from './blur/measure-in-series.ts';
export { whoMoved, type BlurCause, type BlurMotion, type MeasuredBlur } from './blur/measured-blur.ts';

// How a flower swayed over a burst or a film.
export {
  createSwayTracker,
  USUAL_HEAD_SHARE,
  type FlowerDisplacement,
  type SwayOfWhat,
  type SwayTracker,
} from './sway/track-sway.ts';

// Colour: spaces, differences, what a space cannot show.
export { deltaE1976, deltaE2000 } from './colour/delta-e.ts';
export { labToXyz, xyzToLab, type Lab } from './colour/lab.ts';
export { createGamutMapper, type GamutMapper } from './colour/gamut.ts';
export { apply, invert, multiply, type Matrix3, type Triple } from './colour/matrix.ts';
export {
  profileToXyz,
  xyzToProfile,
  type ProfileColours,
  type ProfileTable,
} from './colour/profile-transform.ts';
export {
  RGB_SPACES,
  rgbToProfileXyz,
  rgbToXyz,
  WORKING_SPACE,
  type RgbSpace,
  type RgbSpaceName,
} from './colour/rgb-space.ts';
export { softProof, type SoftProof } from './colour/soft-proof.ts';
export { encodeTransfer, type Transfer } from './colour/transfer.ts';
export { PROFILE_WHITE } from './colour/white.ts';

// Developing: a camera's channels, or a rendered picture, to linear light.
export {
  developCamera,
  type CameraPicture,
  type Developed,
  type WhiteBalance,
} from './develop/develop-camera.ts';
export { makeProxy, createProxyFinisher, type ProxyFinisher, type ProxyView } from './finish/finish-proxy.ts';
export { type LinearPicture } from './develop/linear-picture.ts';
export {
  decodeRendered,
  encodeRendered,
  JUST_SEEN,
  toEightBit,
  workingToProfileXyz,
  type EncodedPicture,
  type Encoding,
} from './develop/rendered.ts';

// Finishing: the steps, and what a delivery asks of the pixels.
export {
  finishPicture,
  finishStepwise,
  type FinishContext,
  type Finished,
  type FinishProgress,
  type FinishSteps,
} from './finish/finish-picture.ts';
export { framedSize } from './finish/geometry.ts';
export { noiseOfSensor, type NoiseModel } from './finish/noise-model.ts';
export { reduceTo } from './finish/reduce.ts';
export { sharpen, type Medium, type Sharpening } from './finish/sharpen.ts';

// Truth to hold measures against: photographs blurred, moved and made noisy by known amounts.
export { renderBlur, renderDrift, renderNoise, seeded } from './rendered/render-blur.ts';
export { renderFocusSeries, type RenderedFocusFrame } from './rendered/render-focus-series.ts';
export { transferOf, worstSigmaPx, type RenderedBlur } from './rendered/transfer.ts';
