/** The contract's documents. */
export { blendSchema, type BlendDocument, type BlendFrame, type BlendGap } from './blend.ts';
export { copySchema, type CopiedFile, type CopyDocument } from './copy.ts';
export { deliverSchema, type DeliverDocument } from './deliver.ts';
export { cardSchema, type CardDocument } from './card.ts';
export {
  EXPLAINED,
  explanationSchema,
  type Explained,
  type Explanation,
  type Quantity,
} from './explanation.ts';
export { exposeSchema, type ExposeAlternative, type ExposeDocument, type ExposeSetting } from './expose.ts';
export { type FailedFile } from './fields.ts';
export { finishSchema, type FinishDocument } from './finish.ts';
export { learnSchema, type LearnDocument, type LearnedParameter } from './learn.ts';
export { measureSchema, type MeasureDocument, type MeasuredFrame, type MeasuredSeries } from './measure.ts';
export {
  readDocument,
  readDocumentOf,
  type DocumentBySchema,
  type DocumentSchema,
  type TepalDocument,
} from './read-document.ts';
export { recordSchema, type RecordDocument, type RecordExport, type RecordImport } from './record.ts';
export { swaySchema, type SwayDocument } from './sway.ts';
export { whenSchema, type WhenDocument, type WhenHour, type WhenMiss, type WhenWindow } from './when.ts';
