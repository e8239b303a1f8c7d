/** One frame looked at closely: what a judge would ask of it, and where it is sharp. */
import { judgeQuestions, lessExposureWords, sharpTiles } from '@tepal/advice';
import type { FrameQuestions, LibraryFrame, SharpTiles } from '@tepal/formats';
import { brightSpots, lessExposure, subjectRegion } from '@tepal/imaging';
import { surveyFromBytes } from '../library/survey-bytes.ts';
import type { Viewer } from './crops.ts';
import { frameAnswer, limitOf } from './frames-answer.ts';
import { EngineRefusal } from './guard.ts';
import type { Store } from './stores.ts';

/** Round the point, as clipping is counted: share of the frame's width. */
const REACH = 0.05;

/** @throws EngineRefusal where the frame or its survey is not there */
export async function questionsAnswer(store: Store, viewer: Viewer, id: string): Promise<FrameQuestions> {
  const { frame, survey } = surveyed(store, id);
  const subject = subjectRegion(survey, frame.point);
  const questions = judgeQuestions({
    ...{ frame, limitPx: limitOf(frame), subject },
    around: subject === null ? [] : brightSpots(survey, subject.box, 'around'),
    onSubject: subject === null ? [] : brightSpots(survey, subject.box, 'onSubject'),
  });
  return {
    questions: questions.map(({ question, spot }) => ({ question, spot })),
    lessExposure: await lessOf(store, viewer, frame),
  };
}

/** The pixels are asked for only where something is burnt, and a picture that is away says nothing. */
async function lessOf(store: Store, viewer: Viewer, frame: LibraryFrame): Promise<string | null> {
  const { red, green, blue } = frame.clipped;
  const stored = store.library.frame(frame.id);
  if (Math.max(red, green, blue) === 0 || stored === null) return null;
  const side = Math.max(1, Math.round(2 * REACH * frame.widthPx));
  try {
    const crop = await viewer.pixels(stored, { ...frame.point, width: side, height: side });
    return lessExposureWords(lessExposure(crop, side / 2));
  } catch {
    return null;
  }
}

/** @throws EngineRefusal where the frame or its survey is not there */
export function sharpAnswer(store: Store, id: string): SharpTiles {
  const { frame, survey } = surveyed(store, id);
  const { columns, rows, tilePx, detail, gradientXX, gradientYY } = survey;
  const gradient = gradientXX.map((xx, tile) => xx + gradientYY[tile]!);
  const sharp = sharpTiles({ columns, rows, detail, gradient }, limitOf(frame));
  return { columns, rows, tilePx, tiles: sharp.map((is) => (is ? 's' : '-')).join('') };
}

function surveyed(store: Store, id: string) {
  const frame = frameAnswer(store, id);
  const bytes = store.library.survey(id);
  if (frame === null || bytes === null) throw new EngineRefusal(404, 'That frame is not in the library.');
  return { frame, survey: surveyFromBytes(bytes) };
}
