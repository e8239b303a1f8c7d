/** What a thread of the pool can do: one function a task, all with the same bench of kernel and buffers. */
import {
  guessPoint,
  makeProxy,
  surveyFrame,
  type FinishContext,
  type LinearPicture,
  type MeasuredBlur,
  type Registration,
} from '@tepal/imaging';
import { blendFrames, type BlendRequest, type BlendResult } from '../blend/blend-frames.ts';
import { candidatesAt, type CandidatesRequest, type CandidatesResult } from '../blend/candidates.ts';
import { openSource } from '../finish/source-picture.ts';
import { render, type RenderRequest, type RenderResult } from '../finish/render-task.ts';
import { contentHash } from '../files/hash.ts';
import type { PhotographKind } from '../files/kinds.ts';
import { describeFrame, type FrameFacts } from '../decode/describe.ts';
import { lumaOfFrame, openFrame, rgbOfFrame } from '../decode/open-frame.ts';
import type { Rgb8 } from '../decode/pixels.ts';
import { surveyToBytes } from '../library/survey-bytes.ts';
import { measureCrops, tellWhoMoved, type BlurRequest, type MovedRequest } from './second-look/blur-task.ts';
import type { Bench, TellTask } from './bench.ts';
import { registerSmall, type SmallLuma } from './small-lumas.ts';
import { lookAtPoint, type LookRequest, type LookResult } from './second-look/look.ts';
import { windowRound, type LumaWindow } from './second-look/windows.ts';

export interface PictureFile {
  readonly path: string;
  readonly kind: PhotographKind;
}

export interface Surveyed {
  readonly id: string;
  readonly facts: FrameFacts;
  /** The survey as bytes for the library. */
  readonly survey: Uint8Array;
  readonly guess: { readonly x: number; readonly y: number };
  /** Luma round the guess, for the second look. */
  readonly window: LumaWindow;
}

interface Tasks {
  /** One decode: facts, content hash, survey with small luma, and a guess at the point of focus. */
  survey: { request: PictureFile; result: Surveyed };
  /** How the small luma of one frame lies on that of another. */
  register: {
    request: { readonly reference: SmallLuma; readonly moving: SmallLuma };
    result: Registration;
  };
  /** The second look at a frame whose window does not suffice: crops of it, and its exposure in colour. */
  look: { request: LookRequest; result: LookResult };
  /** The blur of the crops of one place through a series. */
  blur: { request: BlurRequest; result: readonly MeasuredBlur[] };
  /** Whether camera or subject moved, by other places. */
  moved: { request: MovedRequest; result: MeasuredBlur['moved'] };
  /** Frames aligned and merged, written as files. */
  blend: { request: BlendRequest; result: BlendResult };
  /** What the frames of a blend show at one place. */
  candidates: { request: CandidatesRequest; result: CandidatesResult };
  /** A small copy in linear light, developed as shot. */
  proxy: { request: PictureFile; result: { picture: LinearPicture; origin: FinishContext['origin'] } };
  /** A picture finished, sized and written as a file without tags. */
  render: { request: RenderRequest; result: RenderResult };
  /** The whole picture as upright RGB. */
  decode: { request: PictureFile; result: Rgb8 };
}

export type TaskName = keyof Tasks;
export type TaskRequest<N extends TaskName> = Tasks[N]['request'];
export type TaskResult<N extends TaskName> = Tasks[N]['result'];

interface Done<T> {
  readonly value: T;
  /** What moves to the asking thread instead of being copied. */
  readonly transfer: ArrayBuffer[];
}

const tasks: {
  readonly [N in TaskName]: (
    bench: Bench,
    request: TaskRequest<N>,
    tell: TellTask,
  ) => Promise<Done<TaskResult<N>>>;
} = {
  async survey({ kernel, room }, { path, kind }, tell) {
    const frame = await openFrame(path, kind);
    tell({ done: 0, saying: 'Its headers are read.' });
    const luma = await lumaOfFrame(frame, room);
    const survey = surveyFrame(kernel, luma, { tilePx: luma.width * luma.height > 8e6 ? 64 : 32 });
    const bytes = Uint8Array.from(surveyToBytes(survey));
    const guess = guessPoint(survey);
    const window = windowRound(luma, guess);
    const value = {
      id: contentHash(frame.bytes),
      facts: describeFrame(frame, luma),
      ...{ survey: bytes, guess, window },
    };
    return { value, transfer: [bytes.buffer, window.data.buffer as ArrayBuffer] };
  },
  async register({ kernel }, { reference, moving }) {
    return { value: registerSmall(kernel, reference, moving), transfer: [] };
  },
  async look(bench, request) {
    const value = await lookAtPoint(bench, request);
    return { value, transfer: [] };
  },
  async blur({ kernel }, request) {
    return { value: measureCrops(kernel, request), transfer: [] };
  },
  async moved({ kernel }, request) {
    return { value: tellWhoMoved(kernel, request), transfer: [] };
  },
  async blend({ kernel }, request, tell) {
    return { value: await blendFrames(kernel, request, tell), transfer: [] };
  },
  async candidates({ kernel }, request, tell) {
    return { value: await candidatesAt(kernel, request, tell), transfer: [] };
  },
  async proxy(_bench, { path, kind }) {
    const { picture, context } = await openSource(path, kind);
    return { value: { picture: makeProxy(picture), origin: context.origin }, transfer: [] };
  },
  async render(_bench, request, tell) {
    return { value: await render(request, tell), transfer: [] };
  },
  async decode({ room }, { path, kind }) {
    const picture = await rgbOfFrame(await openFrame(path, kind), room);
    // The buffer is used again for the next frame; what leaves the thread is a copy.
    const data = picture.data.slice();
    return { value: { ...picture, data }, transfer: [data.buffer] };
  },
};

export function runTask<N extends TaskName>(
  bench: Bench,
  name: N,
  request: TaskRequest<N>,
  tell: TellTask,
): Promise<Done<TaskResult<N>>> {
  return tasks[name](bench, request, tell);
}
