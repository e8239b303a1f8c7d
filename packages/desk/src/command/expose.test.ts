// `tepal expose` through the command's own path: the arguments as typed, the document as printed.
import { cardSchema, exposeSchema, type ExposeDocument } from '@tepal/formats';
import { chanceOfKeeper } from '@tepal/science';
import { Command } from 'commander';
import fc from 'fast-check';
import * as v from 'valibot';
import { afterEach, describe, expect, it, vi } from 'vitest';
import { addExpose } from './expose.ts';

afterEach(() => vi.restoreAllMocks());

/** What a command line prints. */
function printed(args: readonly string[]): string {
  const lines: string[] = [];
  const write = vi.spyOn(process.stdout, 'write').mockImplementation((text) => {
    lines.push(String(text));
    return true;
  });
  const program = new Command('tepal').exitOverride();
  addExpose(program);
  try {
    program.parse(['expose', ...args], { from: 'user' });
  } finally {
    write.mockRestore();
  }
  return lines.join('');
}

function asked(args: readonly string[]): ExposeDocument {
  return v.parse(exposeSchema, JSON.parse(printed([...args, '--json'])));
}

const usual = ['--sensor', '36x24', '--pixels', '6000x4000', '--focal', '100', '--subject-depth', '12'];
const picture = [...usual, '--magnification', '0.35', '--background', '400'];

interface SetUp {
  readonly args: readonly string[];
  readonly ev: number;
  readonly wind: number;
}

const anySetUp: fc.Arbitrary<SetUp> = fc
  .record({
    sensor: fc.constantFrom('36x24', '23.5x15.7', '17.3x13', '13.2x8.8'),
    pixels: fc.constantFrom('4000x2667', '6000x4000', '8256x5504', '5184x3888'),
    focal: fc.integer({ min: 30, max: 200 }),
    pupil: fc.double({ min: 0.4, max: 2, noNaN: true }),
    minF: fc.constantFrom('2', '2.8', '4'),
    maxF: fc.constantFrom('16', '22', '32'),
    m: fc.double({ min: 0.08, max: 1.2, noNaN: true }),
    depth: fc.double({ min: 0, max: 30, noNaN: true }),
    ev: fc.double({ min: 1, max: 16, noNaN: true }),
    wind: fc.double({ min: 0, max: 6, noNaN: true }),
    stem: fc.constantFrom('stiff', 'medium', 'wand'),
    support: fc.constantFrom('tripod', 'beanbag', 'elbows', 'kneeling', 'standing'),
    stops: fc.integer({ min: 0, max: 6 }),
    frames: fc.integer({ min: 1, max: 60 }),
    insect: fc.option(fc.constantFrom('torpid', 'resting', 'feeding', 'hovering')),
  })
  .map((a) => ({
    ev: a.ev,
    wind: a.wind,
    args: [
      ...[
        '--sensor',
        a.sensor,
        '--pixels',
        a.pixels,
        '--focal',
        String(a.focal),
        '--pupil',
        a.pupil.toFixed(3),
      ],
      ...['--min-f', a.minF, '--max-f', a.maxF, '--magnification', a.m.toFixed(4)],
      ...[
        '--subject-depth',
        a.depth.toFixed(3),
        '--background',
        '300',
        '--stem',
        a.stem,
        '--support',
        a.support,
      ],
      ...['--stabilisation', String(a.stops), '--frames', String(a.frames)],
      ...(a.insect === null ? [] : ['--insect', a.insect]),
    ],
  }));

const within = (s: SetUp, ev: number, wind: number, ...more: readonly string[]): ExposeDocument =>
  asked([...s.args, '--ev100', String(ev), '--wind', String(wind), ...more]);

function everyNumber(value: unknown, visit: (x: number) => void): void {
  if (typeof value === 'number') visit(value);
  else if (value !== null && typeof value === 'object')
    Object.values(value).forEach((x) => everyNumber(x, visit));
}

describe('tepal expose, a thousand set-ups', () => {
  it('prints no NaN and no infinity, and the laws hold', () => {
    fc.assert(
      fc.property(
        anySetUp,
        fc.double({ min: 0, max: 5, noNaN: true }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        fc.double({ min: 1, max: 3, noNaN: true }),
        (setUp, light, calm, larger) => {
          const one = within(setUp, setUp.ev, setUp.wind);
          // JSON has neither: NaN and infinity would be null where the schema wants a number.
          everyNumber(one, (x) => expect(Number.isFinite(x)).toBe(true));
          const brighter = within(setUp, setUp.ev + light, setUp.wind);
          expect(brighter.recommended.iso).toBeLessThanOrEqual(one.recommended.iso);
          const stiller = within(setUp, setUp.ev, setUp.wind * calm);
          expect(stiller.odds.sharp).toBeGreaterThanOrEqual(one.odds.sharp);
          const size = `${(420 * larger).toFixed(1)}x${(280 * larger).toFixed(1)}mm@300`;
          const print = within(setUp, setUp.ev, setUp.wind, '--deliver', size);
          expect(print.optics.depthOfFieldMm ?? Infinity).toBeLessThanOrEqual(
            (one.optics.depthOfFieldMm ?? Infinity) * (1 + 1e-9),
          );
          const n = one.odds.framesFor95;
          if (n !== null) {
            expect(chanceOfKeeper(one.odds.sharp, n)).toBeGreaterThanOrEqual(0.95 - 1e-9);
            expect(chanceOfKeeper(one.odds.sharp, n + 1)).toBeGreaterThanOrEqual(
              chanceOfKeeper(one.odds.sharp, n),
            );
          }
        },
      ),
      { seed: 21, numRuns: 1000 },
    );
  }, 240_000);
});

describe('tepal expose', () => {
  it('a test shot that came out a stop too bright is a light a stop brighter', () => {
    const fix = ['--fix', 'f=8,t=1/250'];
    const right = asked([...picture, '--metered', 'f/8,1/250,800', ...fix]);
    const bright = asked([...picture, '--test-shot', 'f/8,1/250,800,+1', ...fix]);
    expect(right.recommended.iso).toBe(800);
    expect(bright.recommended.iso).toBe(400);
  });

  it('says how to set the camera as it is used', () => {
    const light = ['--ev100', '11', '--wind', '0.3'];
    expect(asked([...picture, ...light]).camera?.words).toMatch(
      /slowest shutter of 1\/\d+ s and an ISO ceiling of/,
    );
    expect(asked([...picture, ...light, '--camera', 'manual']).camera?.words).toMatch(/by hand/);
    expect(printed([...picture, ...light])).toContain('slowest shutter');
  });

  it('a reflector and a diffuser are told in stops under both skies, with how they were worked out', () => {
    const light = [
      '--ev100',
      '13',
      '--wind',
      '0.3',
      '--reflector',
      '300mm@200,silver',
      '--diffuser',
      '500mm@300',
    ];
    const { fill, explanations, reasons } = asked([...picture, ...light]);
    expect(fill!.reflector!.clear.fillStops).toBeGreaterThan(fill!.reflector!.overcast.fillStops);
    expect(fill!.diffuser!.clear.ratioAfterStops).toBeLessThan(fill!.diffuser!.clear.ratioBeforeStops);
    // By hand: a disc of 500 mm square on at 300 mm fills 250^2 / (250^2 + 300^2) of the view.
    expect(fill!.diffuser!.clear.configurationFactor).toBeCloseTo(250 ** 2 / (250 ** 2 + 300 ** 2), 3);
    expect(explanations!.filter(({ of }) => of === 'light').map(({ name }) => name)).toContain(
      'Fill by a reflector',
    );
    expect(reasons.join(' ')).toMatch(/reflector lifts the shaded side/);
    expect(asked([...picture, '--ev100', '13']).fill).toBeNull();
  });

  it('a card of three magnifications by three airs needs the kit alone', () => {
    const kit = ['--sensor', '36x24', '--pixels', '6000x4000', '--focal', '100'];
    const card = v.parse(cardSchema, JSON.parse(printed([...kit, '--card', '--json'])));
    expect(card.rows.map((row) => row.air)).toEqual(
      Array.from({ length: 3 }, () => ['still', 'stirring', 'nodding']).flat(),
    );
    expect(printed([...kit, '--card'])).toContain('nodding');
  });

  it.each([
    ['no magnification', [...usual, '--background', '400', '--ev100', '11'], /--magnification/],
    ['two lights', [...picture, '--ev100', '11', '--lux', '9000'], /one of --ev100/],
    ['a test shot without its error', [...picture, '--test-shot', 'f/8,1/250,800'], /STOPS/],
    ['a reflector of no size', [...picture, '--ev100', '11', '--reflector', 'large'], /DIAMETERmm@DISTANCE/],
    ['an insect that flies', [...picture, '--ev100', '11', '--insect', 'flying'], /torpid/],
  ])('refuses %s in a sentence', (_, args, sentence) => {
    vi.spyOn(process.stderr, 'write').mockImplementation(() => true);
    expect(() => printed(args)).toThrow(sentence);
  });
});
