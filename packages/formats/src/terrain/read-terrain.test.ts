import { degreesOfUtm } from '@tepal/science';
import fc from 'fast-check';
import { zipSync } from 'fflate';
import { writeArrayBuffer } from 'geotiff';
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { groundAt, readTerrain } from './read-terrain.ts';
import { terrainAround, type Terrain } from './terrain.ts';

const fixture = (name: string) =>
  new Uint8Array(readFileSync(new URL(`../../fixtures/terrain/${name}`, import.meta.url)));

/** The tile N44W072 of which only the part about Mount Washington is known. */
function tile(): Uint8Array {
  const part = fixture('N44W072-part.bin');
  const bytes = new Uint8Array(1201 * 1201 * 2);
  for (let i = 0; i < bytes.length; i += 2) bytes[i] = 0x80;
  for (let row = 0; row < 101; row += 1) {
    bytes.set(part.subarray(row * 202, (row + 1) * 202), ((825 + row) * 1201 + 786) * 2);
  }
  return bytes;
}

async function terrainOf(bytes: Uint8Array, name: string): Promise<Terrain> {
  const read = await readTerrain(bytes, name);
  if (!read.ok) throw new Error(read.fault.message);
  return read.value;
}

async function faultOf(bytes: Uint8Array, name: string) {
  const read = await readTerrain(bytes, name);
  if (read.ok) throw new Error('read without a fault');
  return read.fault;
}

function ground(terrain: Terrain, latitudeDeg: number, longitudeDeg: number) {
  const found = groundAt(terrain, { latitudeDeg, longitudeDeg }, 0.3);
  if (!found.ok) throw new Error(found.fault.message);
  return found.value;
}

const summit = [44.2706, -71.3033] as const;

describe('an SRTM tile', () => {
  it('has Mount Washington where it stands: 1917 m (from memory), within the 16 m of SRTM', async () => {
    const terrain = await terrainOf(tile(), 'tiles/N44W072.hgt');
    expect(terrain).toMatchObject({
      source: 'SRTM tile N44W072, 3 arc seconds',
      columns: 1201,
      north: 45,
      west: -72,
    });
    const top = ground(terrain, ...summit);
    expect(Math.abs(top.altitudeM - 1917)).toBeLessThan(16);
    expect(top.aboveSurroundingsM).toBeGreaterThan(20);
    expect(Math.max(...top.horizon!)).toBeLessThan(1);
    // 3 arc seconds: 92.6 m north, and cos 44.27 of some 92.8 m east.
    expect(top.cellM).toBeCloseTo(92.6, 0);
  });

  it('has steep ground beside it: the headwall of Tuckerman Ravine falls to the east (from memory)', async () => {
    const terrain = await terrainOf(tile(), 'N44W072.hgt');
    const wall = ground(terrain, 44.2615, -71.2995);
    expect(wall.slopeDeg).toBeGreaterThan(25);
    expect(Math.abs(wall.aspectDeg! - 90)).toBeLessThan(45);
    // Uphill, to the west, stands the mountain; the ravine lies open to the east.
    expect(wall.horizon![54]).toBeGreaterThan(15);
    expect(wall.shelterDeg[12]).toBeGreaterThan(10);
    expect(wall.shelterDeg[4]).toBeLessThan(-5);
  });

  it('says how much of it is not known, and gives nothing there', async () => {
    const read = await readTerrain(tile(), 'N44W072.hgt');
    expect(read).toMatchObject({
      ok: true,
      warnings: [`${1201 * 1201 - 101 * 101} of ${1201 * 1201} heights are not known.`],
    });
    const terrain = await terrainOf(tile(), 'N44W072.hgt');
    expect(groundAt(terrain, { latitudeDeg: 44.9, longitudeDeg: -71.5 }, 0)).toMatchObject({
      fault: { found: 'no height at the place' },
    });
    expect(groundAt(terrain, { latitudeDeg: 46, longitudeDeg: -71.5 }, 0)).toMatchObject({
      fault: { found: 'The place is outside the terrain file.' },
    });
  });

  it('is read from a zip archive too', async () => {
    const terrain = await terrainOf(zipSync({ 'N44W072.SRTMGL3.hgt': tile() }), 'N44W072.SRTMGL3.hgt.zip');
    expect(terrain.source).toContain('N44W072');
  });

  it('is refused without a name that says where, or of another size', async () => {
    expect((await faultOf(tile(), 'dem.hgt')).message).toContain('the south-western corner');
    expect((await faultOf(tile(), 'N95W072.hgt')).message).toContain('a corner on Earth');
    expect((await faultOf(tile().subarray(0, 1000), 'N44W072.hgt')).found).toBe('1000 bytes');
  });

  it('south and west count downwards', async () => {
    const terrain = await terrainOf(tile(), 's34w071.HGT');
    expect(terrain).toMatchObject({ north: -33, west: -71 });
  });
});

describe('a GeoTIFF', () => {
  it('in UTM: Olinda by the sea, its corner where the file says (origin 288776.25, 9120760.75, cell 89.994 m)', async () => {
    const terrain = await terrainOf(fixture('olinda_dem_utm25s.tif'), 'olinda.tif');
    expect(terrain).toMatchObject({
      columns: 111,
      rows: 111,
      system: { kind: 'utm', zone: 25, hemisphere: 'S' },
    });
    expect(terrain.west).toBeCloseTo(288_776.25 + 44.997, 2);
    expect(terrain.north).toBeCloseTo(9_120_760.75 - 44.997, 2);
    const node = degreesOfUtm({
      ...{ zone: 25, hemisphere: 'S' },
      eastingM: terrain.west + 3 * terrain.stepEast,
      northingM: terrain.north - 4 * terrain.stepSouth,
    });
    const { altitudeM } = ground(terrain, node.latitudeDeg, node.longitudeDeg);
    expect(altitudeM).toBeCloseTo(terrain.heightsM[4 * 111 + 3]!, 1);
    // 2 degrees west of the zone's middle and 8 south of the equator, true north lies east of the grid's by tan-1(tan 2 sin 8).
    const around = terrainAround(terrain, node, 500);
    if (around.kind === 'outside') throw new Error(around.why);
    const convergence =
      (Math.atan(
        Math.tan(((node.longitudeDeg + 33) * Math.PI) / 180) * Math.sin((node.latitudeDeg * Math.PI) / 180),
      ) *
        180) /
      Math.PI;
    expect(Math.abs(around.grid.northDeg + convergence)).toBeLessThan(0.01);
    expect(terrainAround(terrain, { latitudeDeg: 52, longitudeDeg: 1 }, 500)).toMatchObject({
      why: "The place is outside the terrain's UTM zone 25S.",
    });
  });

  const made = (heights: number[][], more: Record<string, unknown>): Promise<Uint8Array> =>
    Promise.resolve(
      new Uint8Array(
        writeArrayBuffer(Float32Array.from(heights.flat()), {
          height: heights.length,
          width: heights[0]!.length,
          BitsPerSample: [32],
          SampleFormat: [3],
          GTRasterTypeGeoKey: 1,
          ...more,
        }) as ArrayBuffer,
      ),
    );
  const degrees = {
    GTModelTypeGeoKey: 2,
    GeographicTypeGeoKey: 4326,
    ModelPixelScale: [0.001, 0.001, 0],
    ModelTiepoint: [0, 0, 0, 10, 50, 0],
  };

  it('in degrees: values, void, and the cell in metres', async () => {
    const bytes = await made(
      [
        [100, 110, 120, 130],
        [100, 110, 120, 130],
        [100, 110, -9999, 130],
        [100, 110, 120, 130],
      ],
      degrees,
    );
    const terrain = await terrainOf(bytes, 'made.tif');
    expect(terrain.system).toEqual({ kind: 'degrees' });
    // The void is told by being beyond belief, whatever number stands for it.
    expect([...terrain.voids].filter((v) => v === 1)).toHaveLength(1);
    const { altitudeM, slopeDeg } = ground(terrain, 49.9995, 10.0015);
    expect(altitudeM).toBeCloseTo(110, 4);
    expect(slopeDeg).toBeNull();
  });

  it('is refused in coordinates that are not known here, named by their code', async () => {
    const level = [
      [1, 2, 3],
      [1, 2, 3],
      [1, 2, 3],
    ];
    const bytes = await made(level, { ...degrees, GTModelTypeGeoKey: 1, ProjectedCSTypeGeoKey: 2056 });
    expect((await faultOf(bytes, 'swiss.tif')).message).toContain('coordinates of the code 2056');
    const none = await made(
      [
        [-9999, -9999, -9999],
        [-9999, -9999, -9999],
        [-9999, -9999, -9999],
      ],
      degrees,
    );
    expect((await faultOf(none, 'none.tif')).found).toBe('no height');
  });

  it('is refused when cut off or damaged, and never throws', async () => {
    const bytes = fixture('olinda_dem_utm25s.tif');
    expect((await faultOf(bytes.subarray(0, 2000), 'cut.tif')).found).toContain('a damaged TIFF');
    await fc.assert(
      fc.asyncProperty(
        fc.array(fc.tuple(fc.nat(600), fc.integer({ min: 0, max: 255 })), { minLength: 1, maxLength: 6 }),
        async (edits) => {
          const changed = bytes.slice();
          for (const [at, value] of edits) changed[at] = value;
          await readTerrain(changed, 'x.tif');
        },
      ),
      { seed: 20261125, numRuns: 60 },
    );
  });
});

it('a file that is no terrain is named as what it is', async () => {
  expect((await faultOf(Uint8Array.of(0xff, 0xd8, 0xff), 'x.jpg')).found).toBe('a JPEG picture');
  expect((await faultOf(zipSync({ 'a.txt': Uint8Array.of(1) }), 'x.zip')).found).toBe(
    'a zip archive without terrain',
  );
});
