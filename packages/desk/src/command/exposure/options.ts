/** What `tepal expose` is told, for one picture or for the whole card. */
import type { CameraUse, FixedSettings, LightReading } from '@tepal/advice';
import type { InsectClass, ReflectorSurface, StemClass, Support } from '@tepal/science';
import type { DeliveryWish } from '../options.ts';

/** A reflector as typed: 300mm@200,silver. */
export interface ReflectorWish {
  readonly diameterMm: number;
  readonly distanceMm: number;
  readonly surface?: ReflectorSurface;
}

export interface ExposeOptions {
  readonly sensor: { readonly width: number; readonly height: number };
  readonly pixels: { readonly width: number; readonly height: number };
  readonly focal: number;
  readonly pupil?: number;
  readonly magnification?: number;
  readonly minF?: number;
  readonly maxF?: number;
  readonly subjectDepth?: number;
  readonly background?: number;
  readonly ev100?: number;
  readonly lux?: number;
  readonly metered?: LightReading;
  readonly testShot?: LightReading;
  readonly wind?: number;
  readonly stem?: StemClass;
  readonly swayMm?: number;
  readonly swayHz?: number;
  readonly support?: Support;
  readonly stabilisation?: number;
  readonly fix?: FixedSettings;
  readonly deliver?: DeliveryWish;
  readonly intervalS?: number;
  readonly insect?: InsectClass;
  readonly reflector?: ReflectorWish;
  readonly diffuser?: { readonly diameterMm: number; readonly distanceMm: number };
  readonly camera?: CameraUse;
  readonly frames?: number;
  readonly slowestShutter?: number;
  readonly isoCeiling?: number;
  readonly notebook?: string;
  readonly site?: string;
  readonly subject?: string;
  readonly card?: boolean;
  readonly json?: boolean;
}

/** What is the same for one picture and for the whole card. */
export function kitOf(options: ExposeOptions) {
  return {
    sensor: { widthMm: options.sensor.width, heightMm: options.sensor.height },
    pixels: options.pixels,
    lens: {
      focalLengthMm: options.focal,
      ...(options.pupil === undefined ? {} : { pupilMagnification: options.pupil }),
      ...(options.minF === undefined ? {} : { minFNumber: options.minF }),
      ...(options.maxF === undefined ? {} : { maxFNumber: options.maxF }),
    },
    ...(options.support === undefined ? {} : { support: options.support }),
    ...(options.stabilisation === undefined ? {} : { stabilisation: options.stabilisation }),
    ...(options.deliver === undefined ? {} : { delivery: options.deliver }),
    ...(options.frames === undefined ? {} : { frames: options.frames }),
    ...(options.slowestShutter === undefined ? {} : { slowestShutterS: options.slowestShutter }),
    ...(options.isoCeiling === undefined ? {} : { isoCeiling: options.isoCeiling }),
  };
}

/** A shutter time as one reads it. */
export const shutter = (seconds: number) =>
  seconds >= 0.4 ? `${seconds} s` : `1/${Math.round(1 / seconds)} s`;
