/** What the notebook already knows of the set-up: the kit, and the subject that the hour is for. */
import type { DaysAnswer } from '@tepal/formats';
import type { Subject } from '@tepal/notebook';
import { bestWindow } from '../../days/best-window.ts';
import type { OpenNotebook } from '../../field/notebook.ts';
import type { SetUpInputs } from './inputs.ts';

/**
 * @param open the notebook
 * @param days the days, whose best window names a wanted picture
 * @param inputs what stands in where the notebook does not know
 * @returns only what the notebook says; nothing where it holds no kit and no subject
 */
export function inputsFromNotebook(
  open: OpenNotebook,
  days: DaysAnswer['days'],
  inputs: SetUpInputs,
): Partial<SetUpInputs> {
  const { room, notebook } = open;
  const kit = room.list(notebook, 'kit');
  const camera = kit.find((one) => one.part === 'camera');
  const lens = kit.find((one) => one.part === 'lens');
  const support = kit.find((one) => one.part === 'support');
  const best = bestWindow(days);
  const wanted = best === null ? null : room.find(notebook, 'wantedPicture', best.window.wanted);
  const subject = wanted === null ? null : room.find(notebook, 'subject', wanted.subjectId);
  return {
    kit: {
      ...inputs.kit,
      ...(camera === undefined
        ? {}
        : {
            sensorWidthMm: camera.sensorWidthMm,
            sensorHeightMm: camera.sensorHeightMm,
            widthPx: camera.widthPx,
            heightPx: camera.heightPx,
          }),
      ...(lens === undefined
        ? {}
        : { focalLengthMm: lens.focalLengthMm, minFNumber: lens.minFNumber, maxFNumber: lens.maxFNumber }),
    },
    ...(lens === undefined ? {} : { stabilisation: lens.stabilisationStops }),
    ...(support === undefined ? {} : { support: support.support }),
    ...(wanted === null || wanted.magnification === null ? {} : { magnification: wanted.magnification }),
    ...(subject === null ? {} : inputsOfSubject(subject)),
  };
}

/** What a subject brings with it: its depth, its stem, and its sway where it was watched. */
export function inputsOfSubject({ id, depthMm, stem, sway }: Subject): Partial<SetUpInputs> {
  return {
    subjectId: id,
    ...(depthMm === null ? {} : { subjectDepthMm: depthMm }),
    ...(stem === null ? {} : { stem }),
    swayAmplitudeMm: sway?.amplitudeMm ?? null,
    swayFrequencyHz: sway?.frequencyHz ?? null,
  };
}

/** A subject by the name that is said aloud. */
export const subjectName = ({ scientificName, commonNames }: Subject): string =>
  commonNames['en'] ?? Object.values(commonNames)[0] ?? scientificName;
