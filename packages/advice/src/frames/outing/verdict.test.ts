import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  deliveryInWords,
  DELIVERIES,
  deliveryLimitPx,
  largestDelivery,
  printOfSize,
  printResolutionPpi,
} from '../delivery.ts';
import { frameWords } from '../frame-words.ts';
import { rescuedBy } from './remedies.ts';
import { outingVerdict, type FrameToJudge } from './verdict.ts';

type Blur = FrameToJudge['blur'];

function judged(sigmaPx: number | null, change: Partial<Blur> = {}, exposureTimeS: number | null = 1 / 125) {
  judgedCount += 1;
  const frame: FrameToJudge = {
    file: `IMG_${String(judgedCount)}.JPG`,
    series: 's',
    widthPx: 6000,
    heightPx: 4000,
    exposure: { fNumber: 8, exposureTimeS, iso: 800, focalLengthMm: 100 },
    blur: {
      sigmaPx,
      sigmaLowPx: sigmaPx === null ? null : sigmaPx * 0.9,
      sigmaHighPx: sigmaPx === null ? null : sigmaPx * 1.1,
      cause: sigmaPx === null ? 'unclear' : sigmaPx <= 1 ? 'sharp' : 'motion',
      confidence: 0.9,
      motion: null,
      moved: sigmaPx === null || sigmaPx <= 1 ? null : 'subject',
      ...change,
    },
  };
  return frame;
}
let judgedCount = 0;

const times = (count: number, make: () => FrameToJudge) => Array.from({ length: count }, make);

describe('the verdict is right for few frames and for doubtful ones', () => {
  const cases: readonly [string, readonly FrameToJudge[], readonly string[]][] = [
    ['none', [], ['There are no frames to judge yet.']],
    ['one sharp', [judged(0.8)], ['The one frame is sharp enough for an A3 print.']],
    [
      'one moved',
      [judged(1.7)],
      [
        'The one frame is not sharp enough for an A3 print: 1.7 px, sharp enough for projection.',
        'The plant moved at 1/125 s.',
      ],
    ],
    ['one of which nothing is known', [judged(null)], ['How sharp the one frame is cannot be told.']],
    ['two sharp', times(2, () => judged(0.7)), ['Both frames are sharp enough for an A3 print.']],
    [
      'two soft',
      times(2, () => judged(5)),
      [
        'Neither frame is sharp enough for an A3 print; the sharpest has 5.0 px.',
        'The plant moved in 2, all at 1/125 s.',
      ],
    ],
    ['all sharp', times(12, () => judged(0.7)), ['All 12 frames are sharp enough for an A3 print.']],
    ['none known', times(3, () => judged(null)), ['How sharp the 3 frames are cannot be told.']],
    [
      'one of two',
      [judged(0.8), judged(1.4, { cause: 'defocus', moved: null })],
      ['1 of 2 frames is sharp enough for an A3 print.', 'The focus missed in 1.'],
    ],
    [
      'some not known, none sharp',
      [judged(null), judged(2, { cause: 'unclear', moved: null })],
      [
        'Neither frame is known to be sharp enough for an A3 print; the sharpest has 2.0 px, sharp enough for projection.',
        'What softened one is not clear and of one it cannot be told.',
      ],
    ],
    [
      'no exposure data',
      [judged(0.8), ...times(6, () => judged(1.7, {}, null))],
      ['1 of 7 frames is sharp enough for an A3 print.', 'The plant moved in 6.'],
    ],
  ];
  it.each(cases)('%s', (_, frames, sentences) => {
    expect(outingVerdict(frames)).toEqual(sentences);
  });
});

describe('what would have helped', () => {
  it('says how many, at which shutter, with range and basis', () => {
    // Least 0.8 px; 1.2 px halved in its moving part: sqrt(0.64 + 0.8 / 4) = 0.92 px; 4 px: sqrt(0.64 + 15.36 / 4) = 2.1 px.
    const frames = [
      ...times(10, () => judged(0.8)),
      ...times(12, () => judged(1.2)),
      ...times(8, () => judged(4)),
      ...times(3, () => judged(2, { cause: 'defocus', moved: null })),
    ];
    expect(outingVerdict(frames)).toEqual([
      '10 of 33 frames are sharp enough for an A3 print.',
      'The plant moved in 20, all at 1/125 s; the focus missed in 3.',
      'Half the exposure time, 1/250 s, would have made about 12 of these 20 sharp, about twice as many in all, by the blur measured with its movement halved, as long as it moved as it did.',
    ]);
  });

  it('is silent when the numbers do not carry it', () => {
    const hopeless = [judged(0.8), ...times(20, () => judged(9))];
    expect(outingVerdict(hopeless)).toHaveLength(2);
    const few = [judged(0.8), ...times(4, () => judged(1.2))];
    expect(outingVerdict(few)).toHaveLength(2);
  });

  it('rescues more the more it shrinks, none by nothing, and keeps its range', () => {
    const spoiled = fc.array(
      fc
        .tuple(fc.double({ min: 0.3, max: 1, noNaN: true }), fc.double({ min: 1.001, max: 8, noNaN: true }))
        .map(([leastSigmaPx, sigmaPx]) => ({ leastSigmaPx, limitPx: 1, blur: judged(sigmaPx).blur })),
      { maxLength: 30 },
    );
    const shrink = fc.double({ min: 0, max: 1, noNaN: true });
    fc.assert(
      fc.property(spoiled, shrink, shrink, (frames, a, b) => {
        const [less, more] = [rescuedBy(frames, Math.max(a, b)), rescuedBy(frames, Math.min(a, b))];
        expect(more.count).toBeGreaterThanOrEqual(less.count);
        expect(rescuedBy(frames, 1).count).toBe(0);
        expect(rescuedBy(frames, 0).count).toBe(frames.length);
        expect(less.low <= less.count && less.count <= less.high).toBe(true);
      }),
      { seed: 20_271 },
    );
  });

  it('never depends on the order of the frames, nor counts a frame twice', () => {
    const any = fc.array(
      fc.tuple(
        fc.option(fc.double({ min: 0.3, max: 6, noNaN: true })),
        fc.constantFrom('sharp', 'defocus', 'motion', 'both', 'unclear') as fc.Arbitrary<Blur['cause']>,
        fc.constantFrom('camera', 'subject', null),
        fc.option(fc.constantFrom(1 / 60, 1 / 125, 1 / 250)),
      ),
      { maxLength: 25 },
    );
    fc.assert(
      fc.property(any, (list) => {
        const frames = list.map(([sigmaPx, cause, moved, time]) => judged(sigmaPx, { cause, moved }, time));
        const sentences = outingVerdict(frames);
        expect(sentences.length).toBeGreaterThan(0);
        expect(
          sentences.every((s) => /^[A-Z0-9].*\.$/.test(s) && !/NaN|undefined|null|Infinity/.test(s)),
        ).toBe(true);
        expect(outingVerdict([...frames].reverse())[0]).toBe(sentences[0]);
      }),
      { seed: 20_272 },
    );
  });
});

describe('deliveries', () => {
  const frame = { widthPx: 6000, heightPx: 4000 };
  const [a3, a4, projection] = DELIVERIES;

  it('sets the limit by the contract: 0.69 d tan 1′ / enlargement, at least one pixel', () => {
    if (a3 === undefined || a4 === undefined || projection === undefined) throw new Error('three deliveries');
    // A3 at 300 mm: 0.69 x 300 x 0.000290888 = 0.0602 mm over 0.07 mm a pixel is 0.86 px: the floor holds.
    expect(deliveryLimitPx(frame, a3)).toBe(1);
    // 9000 px wide: 0.0602 mm over 0.04667 mm is 1.290 px.
    expect(deliveryLimitPx({ widthPx: 9000, heightPx: 6000 }, a3)).toBeCloseTo(1.29, 2);
    // A4 at 250 mm: 0.05018 mm over 0.0495 mm is 1.014 px.
    expect(deliveryLimitPx(frame, a4)).toBeCloseTo(1.014, 3);
    // Reduced to 1600 px: one pixel of those is 3.75 px of the frame.
    expect(deliveryLimitPx(frame, projection)).toBe(3.75);
  });

  it('is the same for a frame on its side, and never asks for less than the next smaller delivery', () => {
    fc.assert(
      fc.property(fc.integer({ min: 300, max: 12_000 }), fc.integer({ min: 300, max: 12_000 }), (w, h) => {
        const limits = DELIVERIES.map((delivery) => deliveryLimitPx({ widthPx: w, heightPx: h }, delivery));
        const turned = DELIVERIES.map((delivery) => deliveryLimitPx({ widthPx: h, heightPx: w }, delivery));
        expect(turned).toEqual(limits);
        expect([...limits].sort((x, y) => x - y)).toEqual(limits);
      }),
      { seed: 20_273 },
    );
  });

  it('names the largest', () => {
    const names = [0.9, 1.01, 1.7, 5, null].map((sigma) => largestDelivery(frame, sigma)?.name ?? null);
    expect(names).toEqual(['A3', 'A4', 'projection', null, null]);
  });

  it("takes a size of one's own: 420 x 280 mm at 300 mm is the A3 of the contract", () => {
    const own = printOfSize({ widthMm: 280, heightMm: 420, viewingDistanceMm: 300 });
    const large = { widthPx: 9000, heightPx: 6000 };
    if (a3 !== undefined) expect(deliveryLimitPx(large, own)).toBe(deliveryLimitPx(large, a3));
    expect(own.inWords).toBe('a print of 280 x 420 mm');
    expect(() => printOfSize({ widthMm: 0, heightMm: 1, viewingDistanceMm: 1 })).toThrow('widthMm');
  });

  it('says the honest resolution', () => {
    // practice 5.4: A3 at 300 ppi takes 4961 px on 420 mm.
    if (a3 !== undefined)
      expect(printResolutionPpi({ widthPx: 4961, heightPx: 3307 }, a3)).toBeCloseTo(300, 0);
  });
});

describe('a print that comes out coarse', () => {
  const small = { widthPx: 1500, heightPx: 1000 };
  it('names the resolution under the crop and in the verdict', () => {
    // 1500 px on 420 mm are 90.7 ppi; a look from 300 mm asks for 178 x 250 / 300 = 148 (ISO 12232 standard view).
    expect(deliveryInWords(small, DELIVERIES[0]!)).toBe('A3 at 91 ppi');
    expect(deliveryInWords({ widthPx: 6000, heightPx: 4000 }, DELIVERIES[0]!)).toBe('A3');
    expect(deliveryInWords(small, DELIVERIES[2]!)).toBe('projection');
    const frames = [0.7, 0.8].map((sigma) => ({ ...judged(sigma), ...small }));
    expect(outingVerdict(frames)[0]).toBe('Both frames are sharp enough for an A3 print at 91 ppi.');
  });
});

describe('the words under a crop', () => {
  it.each([
    [judged(0.9), {}, '0.9 px, sharp'],
    [judged(1.7), {}, '1.7 px, plant moved'],
    [judged(2.8, { motion: { lengthPx: 9.2, directionDeg: 30 } }), {}, '2.8 px, plant moved 9 px'],
    [judged(3.5), { subject: 'stem' }, '3.5 px, stem moved'],
    [judged(5.8, { moved: 'camera' }), { held: 'hand' }, '5.8 px, hands moved'],
    [judged(5.8, { moved: 'camera' }), {}, '5.8 px, camera moved'],
    [judged(5.8, { moved: null }), {}, '5.8 px, moved'],
    [judged(1.1, { cause: 'defocus' }), { focus: { side: 'behind' } }, '1.1 px, focus behind'],
    [
      judged(2.7, { cause: 'defocus' }),
      { focus: { side: 'inFront', distanceMm: 3 } },
      '2.7 px, focus 3 mm in front',
    ],
    [judged(1.6, { cause: 'defocus' }), {}, '1.6 px, out of focus'],
    [judged(2.1, { cause: 'both' }), {}, '2.1 px, out of focus, plant moved'],
    [judged(1.3, { cause: 'unclear' }), {}, '1.3 px, nearly sharp'],
    [judged(2.3, { confidence: 0.3 }), {}, '2.3 px, cause not clear'],
    [judged(1.01, { cause: 'unclear' }), {}, '1.01 px, nearly sharp'],
    [judged(12.3), {}, '12 px, plant moved'],
    [judged(null), {}, 'cannot tell'],
  ] as const)('%# says %3$s', (frame, circumstances, words) => {
    expect(frameWords(frame, 1, circumstances)).toBe(words);
  });
});
