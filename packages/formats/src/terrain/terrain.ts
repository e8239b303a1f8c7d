/** A model of the ground as its file gives it, and the part of it about a place, ready for science. */
import {
  equalAreaEuropeOfDegrees,
  nationalGridOfDegrees,
  requirePositive,
  stepOnGround,
  utmOfDegrees,
  type Degrees,
  type ElevationGrid,
  type GridPlace,
} from '@tepal/science';

/** What the file's coordinates are. */
export type TerrainSystem =
  | { readonly kind: 'degrees' }
  | { readonly kind: 'utm'; readonly zone: number; readonly hemisphere: 'N' | 'S' }
  | { readonly kind: 'nationalGrid' }
  | { readonly kind: 'equalAreaEurope' };

export interface Terrain {
  /** "SRTM tile N44W072, 3 arc seconds" */
  readonly source: string;
  readonly columns: number;
  readonly rows: number;
  /** Heights above sea level [m], row by row from the north; 0 in a void. */
  readonly heightsM: Float32Array;
  /** 1 where the file gives no height. */
  readonly voids: Uint8Array;
  readonly system: TerrainSystem;
  /** The north-western node, and the steps between nodes: degrees or metres, by the system. */
  readonly west: number;
  readonly north: number;
  readonly stepEast: number;
  readonly stepSouth: number;
}

/** The terrain about a place, or why there is none. */
export type TerrainAround =
  | { readonly kind: 'found'; readonly grid: ElevationGrid; readonly at: GridPlace }
  | { readonly kind: 'outside'; readonly why: string };

/**
 * The part of the terrain within a distance of a place, in metres, with the place in it.
 *
 * A grid in degrees is taken as flat with the cell of the place's own latitude: at 20 km and 60° the outer columns are
 * off by 0.5 %.
 *
 * @param place WGS84 [°]
 * @param radiusM how far to each side [m], > 0
 * @throws DomainError if a number is out of range
 */
export function terrainAround(terrain: Terrain, place: Degrees, radiusM: number): TerrainAround {
  requirePositive('radiusM', radiusM, 'm');
  const here = coordinatesIn(terrain.system, place);
  if (here === null)
    return { kind: 'outside', why: `The place is outside the terrain's ${named(terrain.system)}.` };
  const column = (here.east - terrain.west) / terrain.stepEast;
  const row = (terrain.north - here.north) / terrain.stepSouth;
  if (!(column >= 0 && row >= 0 && column <= terrain.columns - 1 && row <= terrain.rows - 1)) {
    return { kind: 'outside', why: 'The place is outside the terrain file.' };
  }
  const cell = cellOf(terrain, place);
  const [right, down] = [Math.ceil(radiusM / cell.eastM), Math.ceil(radiusM / cell.northM)];
  const [west, east] = [
    Math.max(0, Math.floor(column) - right),
    Math.min(terrain.columns - 1, Math.ceil(column) + right),
  ];
  const [north, south] = [
    Math.max(0, Math.floor(row) - down),
    Math.min(terrain.rows - 1, Math.ceil(row) + down),
  ];
  const [columns, rows] = [east - west + 1, south - north + 1];
  const heightsM = new Float32Array(columns * rows);
  const voids = new Uint8Array(columns * rows);
  for (let r = 0; r < rows; r += 1) {
    const from = (north + r) * terrain.columns + west;
    heightsM.set(terrain.heightsM.subarray(from, from + columns), r * columns);
    voids.set(terrain.voids.subarray(from, from + columns), r * columns);
  }
  return {
    kind: 'found',
    grid: {
      ...{ columns, rows, heightsM, voids },
      cellEastM: cell.eastM,
      cellNorthM: cell.northM,
      northDeg: northOn(terrain.system, place, here),
    },
    at: { column: column - west, row: row - north },
  };
}

interface Coordinates {
  readonly east: number;
  readonly north: number;
}

/** A place in the file's coordinates; null where they do not reach it. */
function coordinatesIn(system: TerrainSystem, place: Degrees): Coordinates | null {
  if (system.kind === 'degrees') return { east: place.longitudeDeg, north: place.latitudeDeg };
  if (system.kind === 'equalAreaEurope') {
    const { eastingM, northingM } = equalAreaEuropeOfDegrees(place);
    return { east: eastingM, north: northingM };
  }
  const point = system.kind === 'utm' ? utmOfDegrees(place) : nationalGridOfDegrees(place);
  if (point.kind === 'outside') return null;
  if (system.kind === 'utm') {
    const { zone, hemisphere } = point as { zone?: number; hemisphere?: string };
    if (zone !== system.zone || hemisphere !== system.hemisphere) return null;
  }
  return { east: point.eastingM, north: point.northingM };
}

function cellOf(terrain: Terrain, place: Degrees): { eastM: number; northM: number } {
  const { system, stepEast, stepSouth } = terrain;
  if (system.kind !== 'degrees') return { eastM: stepEast, northM: stepSouth };
  return {
    eastM: stepOnGround(stepEast, place.latitudeDeg).eastM,
    northM: stepOnGround(stepSouth, place.latitudeDeg).northM,
  };
}

/** Bearing of true north on a plane grid: where a short step to the north goes. */
function northOn(system: TerrainSystem, place: Degrees, here: Coordinates): number {
  if (system.kind === 'degrees') return 0;
  const step = place.latitudeDeg > 89 || place.latitudeDeg < 0 ? -0.001 : 0.001;
  const there = coordinatesIn(system, { ...place, latitudeDeg: place.latitudeDeg + step });
  if (there === null) return 0;
  const turn = step < 0 ? 180 : 0;
  const bearing = (Math.atan2(there.east - here.east, there.north - here.north) * 180) / Math.PI - turn;
  return ((bearing + 540) % 360) - 180;
}

function named(system: TerrainSystem): string {
  if (system.kind === 'utm') return `UTM zone ${system.zone}${system.hemisphere}`;
  if (system.kind === 'nationalGrid') return 'national grid';
  return system.kind === 'equalAreaEurope' ? 'European grid' : 'degrees';
}

/** Lowest and highest ground that is believed [m]: the Dead Sea's shore and the Himalaya, with some to spare. */
const BELIEVED_M = [-500, 9000] as const;

/**
 * Heights and voids of a file's raw numbers: what is marked as void, no number, or beyond belief, is one.
 *
 * @param scale what one unit of the raw number is [m]
 */
export function heightsOf(
  raw: ArrayLike<number>,
  noData: number | null,
  scale: number,
): { readonly heightsM: Float32Array; readonly voids: Uint8Array; readonly voidCount: number } {
  const heightsM = new Float32Array(raw.length);
  const voids = new Uint8Array(raw.length);
  let voidCount = 0;
  for (let i = 0; i < raw.length; i += 1) {
    const value = raw[i] ?? Number.NaN;
    const height = value * scale;
    if (value !== noData && height >= BELIEVED_M[0] && height <= BELIEVED_M[1]) heightsM[i] = height;
    else {
      voids[i] = 1;
      voidCount += 1;
    }
  }
  return { heightsM, voids, voidCount };
}
