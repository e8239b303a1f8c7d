import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { nearestByTime, readGpx, writeGpx, type GpxPoint } from './gpx.ts';

const track = `<?xml version="1.0"?><gpx version="1.0" creator="x" xmlns="http://www.topografix.com/GPX/1/0">
<wpt lat="52.5" lon="-1.25"><ele>101.5</ele><name>Gate &amp; stile</name></wpt><wpt lat="95" lon="0"/>
<trk><name>Morning</name><trkseg>
<trkpt lat="52.1" lon="-1.1"><time>2026-06-01T04:00:00Z</time></trkpt>
<trkpt lat="52.2" lon="-1.2"><time>2026-06-01T04:10:00Z</time></trkpt>
</trkseg></trk></gpx>`;

const read = (text: string) => {
  const result = readGpx(text);
  if (!result.ok) throw new Error(result.fault.message);
  return { ...result.value, warnings: result.warnings };
};

describe('GPX', () => {
  it('gives waypoints and tracks, and leaves out a point that is not on Earth', () => {
    const gpx = read(track);
    expect(gpx.waypoints).toEqual([
      { latitudeDeg: 52.5, longitudeDeg: -1.25, elevationM: 101.5, timeMs: null, name: 'Gate & stile' },
    ]);
    expect(gpx.tracks[0]!.segments[0]).toHaveLength(2);
    expect(gpx.warnings).toEqual(['wpt 2: no position on Earth; left out.']);
  });

  it('finds the position nearest in time, and none when all are too far', () => {
    const points = read(track).tracks[0]!.segments[0]!;
    const at = Date.UTC(2026, 5, 1, 4, 7);
    expect(nearestByTime(points, at, 600_000)).toMatchObject({
      gapMs: 180_000,
      point: { latitudeDeg: 52.2 },
    });
    expect(nearestByTime(points, at, 60_000)).toBeNull();
  });

  it('gives back every waypoint that was written', () => {
    const name = fc.string({ minLength: 1 }).map((s) => s.trim());
    const point: fc.Arbitrary<GpxPoint> = fc.record({
      latitudeDeg: fc.double({ min: -90, max: 90, noNaN: true }),
      longitudeDeg: fc.double({ min: -180, max: 180, noNaN: true }),
      elevationM: fc.option(fc.integer({ min: -400, max: 8849 })),
      timeMs: fc.option(fc.integer({ min: 0, max: 4e12 })),
      name: fc.option(name.filter((s) => s !== '')),
    });
    fc.assert(
      fc.property(fc.array(point, { maxLength: 5 }), (points) => {
        const back = read(writeGpx(points)).waypoints;
        expect(back.map(({ elevationM, timeMs, name: n }) => ({ elevationM, timeMs, name: n }))).toEqual(
          points.map(({ elevationM, timeMs, name: n }) => ({ elevationM, timeMs, name: n })),
        );
        back.forEach((p, i) => expect(p.latitudeDeg).toBeCloseTo(points[i]!.latitudeDeg, 8));
      }),
      { seed: 20261125, numRuns: 100 },
    );
  });

  it('is refused with what it is instead', () => {
    expect(readGpx('<kml/>')).toMatchObject({ fault: { found: 'XML of the kind "kml"' } });
    expect(readGpx(Uint8Array.of(0xff, 0xd8, 0xff))).toMatchObject({ fault: { found: 'a JPEG picture' } });
    expect(readGpx('')).toMatchObject({ fault: { found: 'nothing' } });
    expect(readGpx(track.slice(0, 300))).toMatchObject({ ok: false });
  });
});
