/** One tap: what is set now, written into the outing with its time and place. */
import type { ExposeDocument } from '@tepal/formats';
import type { SetUp } from '@tepal/notebook';
import type { OpenNotebook } from '../field/notebook.ts';
import type { SetUpInputs } from '../set-up/question/inputs.ts';
import { instantHere } from './current-outing.ts';
import type { PositionHere } from './position-here.ts';

/** The moment, the outing it belongs to, and where it was. */
export interface LogMoment {
  readonly id: string;
  readonly outingId: string;
  readonly nowMs: number;
  readonly position: PositionHere | null;
}

/** The set-up as the notebook keeps it. */
export function setUpToLog(
  { room, notebook }: OpenNotebook,
  moment: LogMoment,
  inputs: SetUpInputs,
  { recommended }: ExposeDocument,
): SetUp {
  const kit = room.list(notebook, 'kit');
  const camera = kit.find((one) => one.part === 'camera' && one.widthPx === inputs.kit.widthPx);
  const lens = kit.find((one) => one.part === 'lens' && one.focalLengthMm === inputs.kit.focalLengthMm);
  const held = [
    ...(inputs.reflector === 'none' ? [] : [`${inputs.reflector} reflector`]),
    ...(inputs.diffuser === 'none' ? [] : ['diffuser']),
  ];
  const modifiers = kit.filter((one) => one.part === 'light modifier' && held.includes(one.modifier));
  const subject = inputs.subjectId === '' ? null : room.find(notebook, 'subject', inputs.subjectId);
  return {
    id: moment.id,
    outingId: moment.outingId,
    subjectId: subject?.id ?? null,
    wantedPictureId: null,
    at: instantHere(moment.nowMs),
    position: moment.position === null ? null : room.positionOfReceiver(moment.position),
    cameraId: camera?.id ?? null,
    lensId: lens?.id ?? null,
    support: inputs.support,
    magnification: inputs.magnification,
    backgroundDistanceMm: inputs.backgroundMm,
    lightModifierIds: modifiers.map(({ id }) => id),
    exposure: {
      fNumber: recommended.fNumber,
      exposureTimeS: recommended.exposureTimeS,
      iso: recommended.iso,
    },
    notes: held.length > 0 && modifiers.length === 0 ? `with ${held.join(' and ')}` : '',
  };
}
