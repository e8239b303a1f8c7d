/** The question that the inputs make. */
import type { ExposureRequest, LightReading } from '@tepal/advice';
import type { SetUpInputs } from './inputs.ts';

/** All that the odds hang on; what is fixed left out, as the field of all settings wants it. */
export function openRequest(inputs: SetUpInputs): ExposureRequest {
  const { kit, swayAmplitudeMm, swayFrequencyHz, insect, slowestShutterS, isoCeiling } = inputs;
  return {
    sensor: { widthMm: kit.sensorWidthMm, heightMm: kit.sensorHeightMm },
    pixels: { width: kit.widthPx, height: kit.heightPx },
    lens: { focalLengthMm: kit.focalLengthMm, minFNumber: kit.minFNumber, maxFNumber: kit.maxFNumber },
    magnification: inputs.magnification,
    subjectDepthMm: inputs.subjectDepthMm,
    backgroundMm: inputs.backgroundMm,
    light: lightOf(inputs),
    modifiers: modifiersOf(inputs),
    windMs: inputs.windMs,
    stem: inputs.stem,
    ...(swayAmplitudeMm === null || swayFrequencyHz === null
      ? {}
      : { sway: { amplitudeMm: swayAmplitudeMm, frequencyHz: swayFrequencyHz } }),
    ...(insect === 'none' ? {} : { insect }),
    support: inputs.support,
    stabilisation: inputs.stabilisation,
    camera: inputs.camera,
    frames: inputs.frames,
    delivery: deliveryOf(inputs),
    ...(slowestShutterS === null ? {} : { slowestShutterS }),
    ...(isoCeiling === null ? {} : { isoCeiling }),
  };
}

/** The whole question. */
export function requestFrom(inputs: SetUpInputs): ExposureRequest {
  const { fNumber, exposureTimeS, iso } = inputs;
  return {
    ...openRequest(inputs),
    fix: {
      ...(fNumber === null ? {} : { fNumber }),
      ...(exposureTimeS === null ? {} : { exposureTimeS }),
      ...(iso === null ? {} : { iso }),
    },
  };
}

/** The delivery, of the shape of the frame. */
export function deliveryOf({ kit, printMm, viewedFromMm }: SetUpInputs) {
  return {
    widthMm: printMm,
    heightMm: Math.round((printMm * kit.sensorHeightMm) / kit.sensorWidthMm),
    viewingDistanceMm: viewedFromMm,
  };
}

function lightOf({ lightFrom, ev100, read, brighterByStops }: SetUpInputs): LightReading {
  if (lightFrom === 'look') return { kind: 'ev100', ev100 };
  return lightFrom === 'metered'
    ? { kind: 'metered', ...read }
    : { kind: 'testShot', ...read, brighterByStops };
}

function modifiersOf(inputs: SetUpInputs): NonNullable<ExposureRequest['modifiers']> {
  return {
    ...(inputs.reflector === 'none'
      ? {}
      : {
          reflector: {
            diameterMm: inputs.reflectorMm,
            distanceMm: inputs.reflectorAwayMm,
            surface: inputs.reflector,
          },
        }),
    ...(inputs.diffuser === 'none'
      ? {}
      : { diffuser: { diameterMm: inputs.diffuserMm, distanceMm: inputs.diffuserAwayMm } }),
  };
}
