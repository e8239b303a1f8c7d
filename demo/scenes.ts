/** What the invented outing's frames show: which photograph, when, at which settings, and what went wrong. */

export const FRAME_SIZE = { width: 1500, height: 1000 } as const;

/** The invented day, by the clock of the invented place. */
export const DAY = '2026-06-11';
export const UTC_OFFSET = '+01:00';

/** What spoils a frame. Sizes in px of the frame. */
export type Fault =
  | { readonly kind: 'none' }
  | { readonly kind: 'defocus'; readonly discPx: number }
  | { readonly kind: 'plant' | 'hands'; readonly lengthPx: number; readonly directionDeg: number };

export interface InventedFrame {
  /** After the first frame of its series [s]. */
  readonly afterS: number;
  readonly exposureTimeS: number;
  readonly fault: Fault;
}

export interface RepeatScene {
  readonly source: string;
  readonly shows: string;
  readonly credit: string;
  /** Local time of the first frame. */
  readonly startsAt: string;
  readonly fNumber: number;
  /** At 1/250 s; halved or doubled with the time. */
  readonly iso: number;
  /** The part that moves when the plant moves, in shares of width and height. */
  readonly subject: {
    readonly x: number;
    readonly y: number;
    readonly radiusX: number;
    readonly radiusY: number;
  };
  readonly frames: readonly InventedFrame[];
}

const frame = (afterS: number, speed: number, fault: Fault = { kind: 'none' }): InventedFrame => ({
  afterS,
  exposureTimeS: 1 / speed,
  fault,
});
const plant = (lengthPx: number, directionDeg: number): Fault => ({ kind: 'plant', lengthPx, directionDeg });
const hands = (lengthPx: number, directionDeg: number): Fault => ({ kind: 'hands', lengthPx, directionDeg });
const defocus = (discPx: number): Fault => ({ kind: 'defocus', discPx });

const ANY_USE = 'metadata-extractor-images, D. Noakes, free to use however you wish';

export const REPEATS: readonly RepeatScene[] = [
  {
    source: 'scabious.jpg',
    shows: 'scabious',
    credit: ANY_USE,
    startsAt: '06:02:10',
    fNumber: 8,
    iso: 800,
    subject: { x: 0.66, y: 0.56, radiusX: 0.2, radiusY: 0.3 },
    frames: [
      frame(0, 125, plant(5, 20)),
      frame(1, 125, plant(3.4, 14)),
      frame(2, 125, plant(7.5, 24)),
      frame(11, 125, defocus(7)),
      frame(12, 125, plant(2.6, 8)),
      frame(26, 125),
      frame(27, 125, plant(4.2, 30)),
      frame(58, 250),
      frame(59, 250, plant(2.4, 18)),
      frame(60, 250),
      frame(74, 250, defocus(5)),
      frame(75, 250, hands(8, 80)),
    ],
  },
  {
    source: 'dandelion-clock.jpg',
    shows: 'a dandelion clock against the light',
    credit: 'C. Engelhardt, lomiri-wallpapers-16.04, CC0-1.0',
    startsAt: '06:21:40',
    fNumber: 5.6,
    iso: 400,
    subject: { x: 0.36, y: 0.36, radiusX: 0.22, radiusY: 0.32 },
    frames: [
      frame(0, 250, defocus(9)),
      frame(2, 250, defocus(4)),
      frame(9, 250),
      frame(10, 250, plant(3, 165)),
      frame(11, 250, plant(4.5, 172)),
      frame(33, 500),
      frame(34, 500),
      frame(35, 500, defocus(5.5)),
    ],
  },
  {
    source: 'yellow-in-grass.jpg',
    shows: 'a yellow composite in the grass',
    credit: ANY_USE,
    startsAt: '06:40:05',
    fNumber: 8,
    iso: 640,
    subject: { x: 0.64, y: 0.46, radiusX: 0.16, radiusY: 0.26 },
    frames: [
      frame(0, 125, plant(9, 5)),
      frame(1, 125, plant(6, 12)),
      frame(8, 125, plant(3, 2)),
      frame(9, 125, plant(3.6, 10)),
      frame(31, 250),
      frame(32, 250, defocus(6)),
      frame(33, 250, plant(2.2, 7)),
      frame(34, 250),
    ],
  },
  {
    source: 'marguerites.jpg',
    shows: 'marguerites',
    credit: 'libjxl-testdata, BSD-3-Clause',
    startsAt: '07:14:20',
    fNumber: 11,
    iso: 800,
    subject: { x: 0.59, y: 0.53, radiusX: 0.2, radiusY: 0.36 },
    frames: [
      frame(0, 125, hands(6, 35)),
      frame(1, 125, plant(4, 150)),
      frame(2, 125),
      frame(15, 125, defocus(4.5)),
      frame(16, 125, plant(2.8, 158)),
      frame(17, 250),
      frame(40, 250, defocus(8)),
      frame(41, 250),
    ],
  },
];

/** The focus series, from the near leaves to the cloth behind; disparity codes of the measured map. */
export const FOCUS = {
  source: 'aloe.jpg',
  disparity: 'aloe-disparity.png',
  shows: 'an aloe, in a focus series of six',
  credit:
    'Scharstein and Pal 2007, Learning conditional random fields for stereo (Middlebury 2006), as in opencv-doc, Apache-2.0',
  startsAt: '06:58:30',
  fNumber: 4,
  exposureTimeS: 1 / 250,
  iso: 400,
  size: { width: 1248, height: 832 },
  focusAt: [150, 128, 106, 84, 62, 44],
  discPxPerCode: 0.15,
} as const;
