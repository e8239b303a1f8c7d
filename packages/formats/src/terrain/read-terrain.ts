/** Reading a terrain file of any kind known here, and what it says of the ground at a place. */
import {
  heightBetween,
  horizonOfTerrain,
  shelterOfTerrain,
  slopeOfTerrain,
  topographicPositionM,
  type Degrees,
  type HorizonProfile,
} from '@tepal/science';
import { refused, understood, type Result } from '../result.ts';
import { kindOfBytes } from '../text.ts';
import { readZip } from '../zip.ts';
import { readGeoTiff } from './geo-tiff.ts';
import { looksLikeHgt, readHgt } from './hgt.ts';
import { terrainAround, type Terrain } from './terrain.ts';

const where = 'terrain';
const MAX_BYTES = 256 * 1024 * 1024;
const ACCEPTED = 'a GeoTIFF of heights, or an SRTM tile (N44W072.hgt), also zipped';

/**
 * Terrain from a file's bytes.
 *
 * @param fileName of an SRTM tile it says where the tile lies; of other files it does not matter
 * @returns refused with what the file was taken for, when it is no terrain that is known here
 */
export async function readTerrain(bytes: Uint8Array, fileName: string): Promise<Result<Terrain>> {
  if (bytes.length > MAX_BYTES) {
    return refused({ where, found: `${bytes.length} bytes`, accepted: `at most ${MAX_BYTES} bytes` });
  }
  const kind = kindOfBytes(bytes);
  if (kind.startsWith('a TIFF')) return readGeoTiff(bytes);
  if (looksLikeHgt(fileName)) return readHgt(bytes, fileName);
  if (kind !== 'a zip archive') return refused({ where, found: kind, accepted: ACCEPTED });
  const files = readZip(bytes);
  if (!files.ok) return files;
  const inside = [...files.value].find(([name]) => looksLikeHgt(name) || /\.tiff?$/i.test(name));
  if (inside === undefined) {
    return refused({ where, found: 'a zip archive without terrain', accepted: ACCEPTED });
  }
  return looksLikeHgt(inside[0]) ? readHgt(inside[1], inside[0]) : readGeoTiff(inside[1]);
}

/** What terrain says of the ground at a place; null where it does not say. */
export interface Ground {
  /** Above sea level [m]. */
  readonly altitudeM: number;
  readonly slopeDeg: number | null;
  /** Where the ground falls to, from true north [°]; null where level or not known. */
  readonly aspectDeg: number | null;
  /** Altitudes every 5° from north, clockwise [°]. */
  readonly horizon: HorizonProfile | null;
  /** Shelter against wind from 16 directions from north, clockwise [°]; positive sheltered, negative exposed. */
  readonly shelterDeg: readonly (number | null)[];
  /** Height above the mean of the ground within some 300 m [m]; positive on crests. */
  readonly aboveSurroundingsM: number | null;
  /** Distance between the heights that this rests on [m]: what is smaller is not in it. */
  readonly cellM: number;
}

/** How far the horizon is looked for, how far upwind shelter counts, and what a crest stands out from [m]. */
const HORIZON_M = 20_000;
const SHELTER_M = 300;
const SURROUNDINGS_M = 300;

/**
 * The ground at a place by a terrain file.
 *
 * @param place WGS84 [°]
 * @param eyeM height of the plant above the ground [m]
 * @returns refused where the place is outside the file or in a void of it
 * @throws DomainError if a number is out of range
 */
export function groundAt(terrain: Terrain, place: Degrees, eyeM: number): Result<Ground> {
  const around = terrainAround(terrain, place, HORIZON_M);
  if (around.kind === 'outside') {
    return refused({ where, found: around.why, accepted: 'a file that holds the place' });
  }
  const { grid, at } = around;
  const altitudeM = heightBetween(grid, at);
  if (altitudeM === null) {
    return refused({ where, found: 'no height at the place', accepted: 'a file without a void there' });
  }
  const slope = slopeOfTerrain(grid, at);
  const cellM = Math.max(grid.cellEastM, grid.cellNorthM);
  const radius = Math.max(1, Math.round(SURROUNDINGS_M / cellM));
  return understood({
    altitudeM,
    slopeDeg: slope?.slopeDeg ?? null,
    aspectDeg: slope?.aspectDeg ?? null,
    horizon: horizonOfTerrain(grid, at, { eyeM, farthestM: HORIZON_M, directions: 72 }),
    shelterDeg: shelterOfTerrain(grid, at, { farthestM: Math.max(SHELTER_M, 3 * cellM), directions: 16 }),
    aboveSurroundingsM: topographicPositionM(grid, at, radius),
    cellM,
  });
}
