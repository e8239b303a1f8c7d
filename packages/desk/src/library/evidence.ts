/** What the library measured as the notebook's evidence, outing by outing. */
import {
  change,
  list,
  writeFrameEvidence,
  type FrameEvidence,
  type Notebook,
  type Outing,
} from '@tepal/notebook';
import { parseInstantMs, parseWrittenTime } from '@tepal/formats';
import { basename, extname } from 'node:path';
import type { Library } from './library.ts';

/** Frames count to an outing from this long before it was begun in the notebook to this long after its end. */
const BESIDE_MS = 3 * 3_600_000;
/** An outing that was never ended lasts so long. */
const USUAL_LENGTH_MS = 8 * 3_600_000;

export interface EvidenceTaken {
  readonly notebook: Notebook;
  /** Frames that are evidence now, and how many of them are new. */
  readonly frames: number;
  readonly fresh: number;
}

/**
 * Puts every measured frame of a library into the notebook's evidence. A frame stays there when its file is deleted
 * later: what was bad and is gone is part of what these hands do.
 *
 * @param notebook used up; go on with what is returned
 */
export function takeEvidence(notebook: Notebook, library: Library, nowMs: number): EvidenceTaken {
  const outings = list(notebook, 'outing');
  const byOuting = new Map<
    string,
    { outing: Outing | null; dayMs: number | null; frames: FrameEvidence[] }
  >();
  for (const folder of library.folders()) {
    const { frames } = library.measuring(folder.path);
    for (const { id, measured } of frames) {
      const hash = /^sha256:([0-9a-f]{64})$/.exec(id)?.[1];
      const stored = library.frame(id);
      if (hash === undefined || stored === null) continue;
      const takenAtMs = stored.facts.takenAtMs;
      const outing = outings.find((one) => takenAtMs !== null && during(one, takenAtMs)) ?? null;
      const day = takenAtMs === null ? 'undated' : new Date(takenAtMs).toISOString().slice(0, 10);
      const key = outing?.id ?? `day-${day}`;
      const group = byOuting.get(key) ?? { outing, dayMs: takenAtMs, frames: [] };
      group.frames.push({
        hash,
        takenAtMs,
        ...{ sigmaPx: measured.blur.sigmaPx, sigmaLowPx: measured.blur.sigmaLowPx },
        ...{ sigmaHighPx: measured.blur.sigmaHighPx, cause: measured.blur.cause },
        ...{ confidence: measured.blur.confidence, moved: measured.blur.moved },
        ...{ widthPx: measured.widthPx, heightPx: measured.heightPx },
        ...{ fNumber: measured.exposure.fNumber, exposureTimeS: measured.exposure.exposureTimeS },
        focalLengthMm: measured.exposure.focalLengthMm,
        fileKind: stored.kind,
        series: measured.series,
        fileNumber: numberOf(measured.file),
        camera: stored.facts.camera,
      });
      byOuting.set(key, group);
    }
  }
  let fresh = 0;
  let total = 0;
  const known = new Map(list(notebook, 'evidence').map((one) => [one.id, one]));
  const wanted = [...byOuting].map(([key, { outing, dayMs, frames }]) => {
    const id = `evidence-${key}`;
    const before = known.get(id)?.frames ?? {};
    const lines = Object.fromEntries(frames.map((frame) => [frame.hash, writeFrameEvidence(frame)]));
    fresh += Object.keys(lines).filter((hash) => !Object.hasOwn(before, hash)).length;
    const all = { ...before, ...lines };
    total += Object.keys(all).length;
    const day = dayMs === null ? null : new Date(dayMs).toISOString();
    return { id, outingId: outing?.id ?? null, day, frames: all, notes: known.get(id)?.notes ?? '' };
  });
  const changed = wanted.some(
    (one) => JSON.stringify(known.get(one.id)?.frames) !== JSON.stringify(one.frames),
  );
  if (!changed) return { notebook, frames: total, fresh: 0 };
  const taken = change(notebook, { message: 'frames measured', timeMs: nowMs }, (pen) => {
    for (const one of wanted) pen.put('evidence', one);
  });
  return { notebook: taken, frames: total, fresh };
}

/** By the clock on the wall, which the camera's digits show as the outing's times do. */
function during(outing: Outing, takenAtMs: number): boolean {
  const wall = (text: string): number | null => parseWrittenTime(text)?.localMs ?? parseInstantMs(text);
  const startMs = wall(outing.startedAt);
  if (startMs === null) return false;
  const endMs = (outing.endedAt === null ? null : wall(outing.endedAt)) ?? startMs + USUAL_LENGTH_MS;
  const trueMs = takenAtMs + (outing.cameraClockOffsetS ?? 0) * 1000;
  return trueMs >= startMs - BESIDE_MS && trueMs <= endMs + BESIDE_MS;
}

/** The number at the end of a camera's file name: 417 of "IMG_0417.CR2". */
function numberOf(file: string): number | null {
  const digits = /(\d{3,6})$/.exec(basename(file, extname(file)))?.[1];
  return digits === undefined ? null : Number(digits);
}
