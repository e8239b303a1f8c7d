import { mgrsOfDegrees, nationalGridOfDegrees, nationalGridReference, utmOfDegrees } from '@tepal/science';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { positionsOfGpx } from './positions-of-gpx.ts';
import { readPosition } from './read-position.ts';

const seed = 20261125;

function read(text: string) {
  const result = readPosition(text);
  if (!result.ok) throw new Error(result.fault.message);
  return { ...result.value, warnings: result.warnings };
}

function fault(text: string) {
  const result = readPosition(text);
  if (result.ok) throw new Error(`read as ${result.value.latitudeDeg}, ${result.value.longitudeDeg}`);
  return result.fault;
}

describe('degrees as people write them', () => {
  // FS G-19: 52.657570 N = 52 deg 39' 27.252"; the longitude is FS G-2's, 1.7179216 = 1 deg 43' 4.518".
  it.each([
    ['52.657570, 1.717922'],
    ['52.657570 1.717922'],
    ['52.657570;1.717922'],
    ['52.657570/1.717922'],
    ['(52.657570, 1.717922)'],
    ['+52.657570, +1.717922'],
    ['52.657570 N, 1.717922 E'],
    ['N52.657570 E1.717922'],
    ['52.657570°N 1.717922°E'],
    ['52.657570° N, 1.717922° E'],
    ['E 1.717922, N 52.657570'],
    ['1.717922 E 52.657570 N'],
    ['lat 52.657570 lon 1.717922'],
    ['Latitude: 52.657570, Longitude: 1.717922'],
    ['52,657570 1,717922'],
    ['52,657570; 1,717922'],
    ['52,657570 N 1,717922 E'],
    ['52 39.4542 N 1 43.0753 E'],
    ["52° 39.4542' N, 1° 43.0753' E"],
    ['52°39,4542′N 1°43,0753′E'],
    ['N 52° 39.4542 E 001° 43.0753'],
    ['52:39.4542 1:43.0753'],
    ['52 39.4542 1 43.0753'],
    ['52° 39′ 27.252″ N 1° 43′ 4.518″ E'],
    ['52°39\'27.252"N 1°43\'4.518"E'],
    ["52°39'27.252''N, 1°43'4.518''E"],
    ['52 39 27.252 N 1 43 4.518 E'],
    ['52 39 27.252 1 43 4.518'],
    ['52:39:27.252, 1:43:4.518'],
    ['52deg 39min 27.252sec N, 1deg 43min 4.518sec E'],
    ['52 deg 39\' 27.252" North 1 deg 43\' 4.518" East'],
    ['geo:52.657570,1.717922'],
    ['geo:52.657570,1.717922,40;u=35?z=12'],
    ['52d39m27.252sN 1d43m4.518sE'],
    ['52d 39m 27.252s N, 1d 43m 4.518s E'],
    ['  52.657570 ,\t1.717922\n'],
  ])('%s', (text) => {
    const { latitudeDeg, longitudeDeg, notation } = read(text);
    expect(latitudeDeg).toBeCloseTo(52.65757, 5);
    expect(longitudeDeg).toBeCloseTo(1.717922, 5);
    expect(notation).toBe('degrees');
  });

  it.each([
    ['-33.8568, 151.2153', -33.8568, 151.2153],
    ['33.8568 S 151.2153 E', -33.8568, 151.2153],
    ['S33.8568, E151.2153', -33.8568, 151.2153],
    ['33 51 24.48 S 151 12 55.08 E', -33.8568, 151.2153],
    ['33 51 24.48 s 151 12 55.08 e', -33.8568, 151.2153],
    ['33d51m24.48sS 151d12m55.08sE', -33.8568, 151.2153],
    ['51.5, −0.1', 51.5, -0.1],
    ['51.5 N 0.1 W', 51.5, -0.1],
    ['51 30 0 N 0 6 0 W', 51.5, -0.1],
    ['-0.5, -0.25', -0.5, -0.25],
    ['-0° 30′, -0° 15′', -0.5, -0.25],
    ['52, -1', 52, -1],
    ['52,-1', 52, -1],
    ['0, 0', 0, 0],
    ['90, 180', 90, 180],
    ['-90, -180', -90, -180],
  ])('%s has its signs right', (text, latitude, longitude) => {
    const back = read(text);
    expect(back.latitudeDeg).toBeCloseTo(latitude, 9);
    expect(back.longitudeDeg).toBeCloseTo(longitude, 9);
  });

  it('says what it took for granted, and how exact the writing is', () => {
    expect(read('52.35, -1.25').warnings).toEqual(['Latitude was taken to come first: 52.35° N, 1.25° W.']);
    expect(read('52.35 N, 1.25 W').warnings).toEqual([]);
    // FS G-13: 0.01 degree at 52 N is 1307.6 m across its diagonal.
    expect(Math.abs(read('52.00 N, 1.25 W').uncertaintyM - 1307.6 / 2)).toBeLessThan(0.1);
    expect(read('52° 0′ N, 1° 15′ W').uncertaintyM).toBeGreaterThan(1000);
    expect(read('52.00001, -1.25').uncertaintyM).toBeGreaterThan(0);
  });

  it('gives back what was written, in every notation', () => {
    const two = (n: number, digits: number) => n.toFixed(digits);
    const letters = (lat: number, lon: number) => [lat < 0 ? 'S' : 'N', lon < 0 ? 'W' : 'E'] as const;
    const minutes = (x: number) => {
      const thousandths = Math.round(Math.abs(x) * 60_000);
      return `${Math.floor(thousandths / 60_000)}° ${two((thousandths % 60_000) / 1000, 3)}′`;
    };
    const seconds = (x: number) => {
      const tenths = Math.round(Math.abs(x) * 36_000);
      const [d, m] = [Math.floor(tenths / 36_000), Math.floor(tenths / 600) % 60];
      return `${d}° ${m}′ ${two((tenths % 600) / 10, 1)}″`;
    };
    fc.assert(
      fc.property(
        fc.double({ min: -89.9, max: 89.9, noNaN: true }),
        fc.double({ min: -179.9, max: 179.9, noNaN: true }),
        (lat, lon) => {
          const [ns, ew] = letters(lat, lon);
          const plain = (x: number) => two(Math.abs(x), 6);
          const written: readonly (readonly [string, number])[] = [
            [`${two(lat, 6)}, ${two(lon, 6)}`, 1e-6],
            [`${two(lat, 6)} ${two(lon, 6)}`.replaceAll('.', ','), 1e-6],
            [`${plain(lat)} ${ns} ${plain(lon)} ${ew}`, 1e-6],
            [`${ew}${plain(lon)} ${ns}${plain(lat)}`, 1e-6],
            [`${minutes(lat)} ${ns}, ${minutes(lon)} ${ew}`, 1e-4],
            [`${seconds(lat)} ${ns} ${seconds(lon)} ${ew}`, 1e-4],
            [`${seconds(lat)}${ns} ${seconds(lon)}${ew}`.replace(/[°′″]/g, ' '), 1e-4],
          ];
          for (const [text, tolerance] of written) {
            const back = read(text);
            expect(Math.abs(back.latitudeDeg - lat), text).toBeLessThan(tolerance);
            expect(Math.abs(back.longitudeDeg - lon), text).toBeLessThan(tolerance);
          }
        },
      ),
      { seed, numRuns: 150 },
    );
  });
});

describe('grids as people write them', () => {
  it.each([
    ['31U DQ 48251 11932', 48.8582, 2.2945],
    ['31UDQ4825111932', 48.8582, 2.2945],
    ['MGRS 31u dq 48251 11932', 48.8582, 2.2945],
    ['56H LH 34900 52288', -33.8568, 151.2153],
    ['31U 448251.795 5411932.678', 48.8582, 2.2945],
    ['UTM 31U 448252E 5411933N', 48.8582, 2.2945],
    ['31N 448252 5411933', 48.8582, 2.2945],
    ['zone 31 U, E 448252, N 5411933'.replace(',', ''), 48.8582, 2.2945],
    ['56H 334901 6252289', -33.8568, 151.2153],
    ['56S 334901 6252289', -33.8568, 151.2153],
    ['30U 699579 5709430', 51.500721, -0.12443],
    ['NN 16677 71281', 56.79685, -5.00351],
    ['nn1667771281', 56.79685, -5.00351],
    ['TQ 38882 77331', 51.4779, -0.0015],
  ])('%s (FS G-4, G-5, G-7; within 2 m)', (text, latitude, longitude) => {
    const back = read(text);
    expect(Math.abs(back.latitudeDeg - latitude)).toBeLessThan(2e-5);
    expect(Math.abs(back.longitudeDeg - longitude)).toBeLessThan(4e-5);
  });

  it('takes the middle of the square and says how large it is (FS G-16)', () => {
    expect(read('31U DQ 48 11').uncertaintyM).toBeCloseTo(707.1, 1);
    expect(read('NN 16 71').uncertaintyM).toBeCloseTo(707.1 + 5, 1);
    expect(read('NN 16677 71281').notation).toBe('nationalGrid');
  });

  it('asks about the letter S, which is a band of the north and "south" to many', () => {
    expect(read('56S 334901 6252289').warnings).toEqual(['"56S" was taken for the southern half.']);
    // Japan's 54S: 36 N.
    const utm = utmOfDegrees({ latitudeDeg: 36.1, longitudeDeg: 140.1 });
    if (utm.kind === 'outside') throw new Error('outside');
    const text = `54S ${utm.eastingM.toFixed(0)} ${utm.northingM.toFixed(0)}`;
    expect(read(text).latitudeDeg).toBeCloseTo(36.1, 4);
    expect(read(text).warnings).toEqual(['"54S" was taken for the band S, north of the equator.']);
  });

  it('gives back what science writes', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 50.2, max: 58, noNaN: true }),
        fc.double({ min: -5, max: 1.5, noNaN: true }),
        (latitudeDeg, longitudeDeg) => {
          const place = { latitudeDeg, longitudeDeg };
          const [mgrs, national] = [mgrsOfDegrees(place, 5), nationalGridOfDegrees(place)];
          if (mgrs.kind === 'outside' || national.kind === 'outside') return;
          for (const text of [mgrs.reference, nationalGridReference(national, 10)]) {
            const back = read(text);
            expect(Math.abs(back.latitudeDeg - latitudeDeg)).toBeLessThan(2e-5);
            expect(Math.abs(back.longitudeDeg - longitudeDeg)).toBeLessThan(3e-5);
          }
        },
      ),
      { seed, numRuns: 100 },
    );
  });
});

describe('places marked in a GPX file', () => {
  const gpx = (inside: string) => `<gpx version="1.1">${inside}</gpx>`;

  it('are its waypoints, with name and altitude', () => {
    const read = positionsOfGpx(gpx('<wpt lat="52.5" lon="-1.25"><ele>101.5</ele><name>Bank</name></wpt>'));
    expect(read).toMatchObject({
      ok: true,
      value: [{ name: 'Bank', latitudeDeg: 52.5, longitudeDeg: -1.25, altitudeM: 101.5 }],
    });
  });

  it('are asked for where there are only tracks, or nothing', () => {
    expect(positionsOfGpx(gpx('<trk/>'))).toMatchObject({ fault: { found: '1 tracks and no waypoint' } });
    expect(positionsOfGpx(gpx(''))).toMatchObject({ fault: { found: 'an empty GPX file' } });
    expect(positionsOfGpx('not a file')).toMatchObject({ ok: false });
  });
});

describe('what was not understood is said', () => {
  it.each([
    ['', 'found nothing'],
    ['the second gate', 'found "the second gate"'],
    ['52.3', 'found "52.3"'],
    ['95, 10', 'a latitude of 95°'],
    ['151.2153, -33.8568', 'these may be the wrong way round'],
    ['52 N, 200 E', 'a longitude of 200°'],
    ['52 N 1 N', 'two angles of latitude'],
    ['52° 75′ N 1° 2′ E', '75 minutes are more than 59'],
    ['52° 5′ 61″ N 1° 2′ 3″ E', '61 seconds are more than 59'],
    ['52.5° 30′ N 1° 2′ E', 'Degrees with a fraction cannot have minutes'],
    ['-52 S, 1 E', 'both a minus and the letter S'],
    ['52 N, 1 O', 'O means east in some languages'],
    ['SP 123', '3 figures after SP'],
    ['II 12 34', 'the grid reference "II 12 34"'],
    ['O 15904 34671', 'as the Irish grid has them'],
    ['61U DQ 48251 11932', 'the MGRS reference'],
    ['31U DQ 482', 'the MGRS reference'],
    ['31C 448251 5411932', 'not in that band'],
    ['31I 448251 5411932', 'found "31I 448251 5411932"'],
    ['52.1, 1.2, 3.4', 'found "52.1, 1.2, 3.4"'],
    ['x'.repeat(300), '300 characters'],
  ])('%j', (text, said) => expect(fault(text).message).toContain(said));

  it('never throws, and never gives a place that is not on Earth', () => {
    const alphabet = '0123456789 .,-°′″\'"NSEWO:;/+abcUTMGRS'.split('');
    fc.assert(
      fc.property(fc.string({ unit: fc.constantFrom(...alphabet), maxLength: 40 }), (text) => {
        const result = readPosition(text);
        if (!result.ok) return;
        expect(Math.abs(result.value.latitudeDeg)).toBeLessThanOrEqual(90);
        expect(Math.abs(result.value.longitudeDeg)).toBeLessThanOrEqual(180);
        expect(result.value.uncertaintyM).toBeGreaterThan(0);
      }),
      { seed, numRuns: 3000 },
    );
    fc.assert(
      fc.property(fc.string({ unit: 'binary', maxLength: 60 }), (text) => void readPosition(text)),
      { seed, numRuns: 500 },
    );
  });
});
