/** Decisions with their reasons: which hours, what to set, which frame. Pure. */

// ---- Frames: which frame -----------------------------------------------------------------------------------------
export {
  fileKindOf,
  picturesOf,
  type FileKind,
  type FoundPictures,
  type PictureFiles,
} from './frames/companions.ts';
export {
  DELIVERIES,
  deliveryLimitPx,
  largestDelivery,
  printResolutionPpi,
  type Delivery,
  type FrameSize,
} from './frames/delivery.ts';
export { compareFileNames } from './frames/file-name-order.ts';
export { focusMovement, type DetailMap, type FocusEnd, type FocusMovement } from './frames/focus-series.ts';
export { frameWords, type FrameCircumstances } from './frames/frame-words.ts';
export {
  rankSeries,
  sharpnessOf,
  type FrameToRank,
  type RankedFrame,
  type Sharpness,
} from './frames/ranking.ts';
export { rescuedBy, type Rescued, type SpoiledFrame } from './frames/remedies.ts';
export {
  groupIntoSeries,
  type FrameToGroup,
  type GroupedSeries,
  type GroupingOptions,
  type Likeness,
} from './frames/series.ts';
export { focusSeriesWords, repeatSeriesWords } from './frames/series-words.ts';
export { spoilerOf, spoilersOf, type Spoiler, type SpoilerCause } from './frames/spoilers.ts';
export { outingVerdict, type FrameToJudge, type VerdictOptions } from './frames/verdict.ts';
