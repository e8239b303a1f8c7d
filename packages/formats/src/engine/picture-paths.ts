/** The engine's paths for finishing, blending again, rules and entries. */
import type { StoreName } from './messages.ts';
import type { PictureSource } from './picture-messages.ts';

const seg = encodeURIComponent;

const sourcePath = (store: StoreName, of: PictureSource) =>
  of.pictureId === undefined
    ? `/api/${store}/frames/${seg(of.frameId)}`
    : `/api/${store}/pictures/${seg(of.pictureId)}`;

export const picturePaths = {
  /** GET: KeptSteps; PUT {steps, before, after}: KeptSteps */
  steps: (store: StoreName, of: PictureSource) => `${sourcePath(store, of)}/steps`,
  /** GET application/octet-stream: a small copy in linear light, read by `readProxy` */
  proxy: (store: StoreName, of: PictureSource) => `${sourcePath(store, of)}/proxy`,
  /** POST {pictureId|frameId, steps}: Job, making the full picture */
  finish: (store: StoreName) => `/api/${store}/finish`,
  /** GET image/jpeg of the full picture last made; `of` its job tells a new one from an old one */
  finished: (store: StoreName, of: PictureSource, longEdgePx: number, made: string) =>
    `${sourcePath(store, of)}/finished.jpg?longEdge=${longEdgePx}&made=${seg(made)}`,
  /** GET: BlendState */
  blendState: (store: StoreName, pictureId: string) => `/api/${store}/pictures/${seg(pictureId)}/blend`,
  /** GET image/tiff: the depth or the source map */
  blendMap: (store: StoreName, pictureId: string, map: 'depth' | 'source') =>
    `/api/${store}/pictures/${seg(pictureId)}/${map}.tif`,
  /** POST {x, y, radiusPx}: Job, looking at that place in every frame */
  candidates: (store: StoreName, pictureId: string) => `/api/${store}/pictures/${seg(pictureId)}/candidates`,
  /** GET: CandidatesAnswer of an ended job */
  candidatesFound: (store: StoreName, jobId: string) => `/api/${store}/candidates/${seg(jobId)}`,
  /** GET image/jpeg of one candidate, by its number */
  candidateCrop: (store: StoreName, jobId: string, number: number) =>
    `/api/${store}/candidates/${seg(jobId)}/${number}.jpg`,
  /** PUT {choices}: Job, blending again with those places */
  choices: (store: StoreName, pictureId: string) => `/api/${store}/pictures/${seg(pictureId)}/choices`,
  /** GET: KeptRules[] */
  rules: (store: StoreName) => `/api/${store}/rules`,
  /** PUT {rules}: KeptRules[] */
  ruleSet: (store: StoreName, id: string) => `/api/${store}/rules/${seg(id)}`,
  /** GET: names of the printers' profiles that were given */
  profiles: (store: StoreName) => `/api/${store}/profiles`,
  /** GET: the profile's bytes; PUT bytes: the names */
  profile: (store: StoreName, name: string) => `/api/${store}/profiles/${seg(name)}`,
  /** GET: EntryDraft[] */
  entries: (store: StoreName) => `/api/${store}/entries`,
  /** PUT EntryDraft: EntryDraft[]; POST: Job, making the entry's folder */
  entry: (store: StoreName, id: string) => `/api/${store}/entries/${seg(id)}`,
  /** GET: EnteredAnswer of an ended job */
  entered: (store: StoreName, jobId: string) => `/api/${store}/entered/${seg(jobId)}`,
  /** POST {pictures}: Job, whose file is downloaded as a delivered one */
  contactSheet: (store: StoreName) => `/api/${store}/contact-sheet`,
} as const;
