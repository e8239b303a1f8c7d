/** Elevation models as GeoTIFF, in degrees, UTM, the British national grid or Europe's equal-area grid. */
import { fromArrayBuffer } from 'geotiff';
import { refused, told, understood, type Result } from '../result.ts';
import { heightsOf, type Terrain, type TerrainSystem } from './terrain.ts';

const where = 'terrain';
const MAX_CELLS = 40_000_000;
const USER_DEFINED = 32_767;
const FOOT_M = 0.3048;
const US_FOOT_M = 1200 / 3937;

/**
 * The first image of a GeoTIFF as terrain. Its first band is taken for heights.
 *
 * @returns refused where it is no GeoTIFF, is damaged, is turned, lies in coordinates that are not known here, or is
 *   too large
 */
export async function readGeoTiff(bytes: Uint8Array): Promise<Result<Terrain>> {
  try {
    const file = await fromArrayBuffer(bytes.slice().buffer);
    const image = await file.getImage();
    const [columns, rows] = [image.getWidth(), image.getHeight()];
    if (columns * rows > MAX_CELLS || columns < 3 || rows < 3) {
      const found = `${columns} by ${rows} cells`;
      return refused({ where, found, accepted: `3 by 3 to ${MAX_CELLS} cells; cut out the part you need` });
    }
    const keys = (image.getGeoKeys() ?? {}) as Readonly<Record<string, unknown>>;
    const system = systemOf(keys);
    if (!system.ok) return system;
    const [x = Number.NaN, y = Number.NaN] = image.getOrigin();
    const [stepEast = Number.NaN, stepNorth = Number.NaN] = image.getResolution();
    if (!(stepEast > 0 && stepNorth < 0 && Number.isFinite(x) && Number.isFinite(y))) {
      return refused({ where, found: 'a turned or mirrored picture', accepted: 'rows from north to south' });
    }
    const [raw] = (await image.readRasters({
      interleave: false,
      samples: [0],
    })) as unknown as ArrayLike<number>[];
    if (raw === undefined || raw.length !== columns * rows) {
      return refused({ where, found: 'no band of heights', accepted: 'one number a cell' });
    }
    const { heightsM, voids, voidCount } = heightsOf(raw, image.getGDALNoData(), unitM(keys));
    if (voidCount === raw.length) {
      return refused({ where, found: 'no height', accepted: 'heights from -500 to 9000 m' });
    }
    // A cell is an area about its middle, unless the file says that it is a point.
    const half = keys['GTRasterTypeGeoKey'] === 2 ? 0 : 0.5;
    return understood(
      {
        source: `GeoTIFF of ${columns} by ${rows} cells`,
        ...{ columns, rows, heightsM, voids, stepEast },
        system: system.value,
        west: x + half * stepEast,
        north: y + half * stepNorth,
        stepSouth: -stepNorth,
      },
      voidCount === 0 ? [] : [`${voidCount} of ${raw.length} heights are not known.`],
    );
  } catch {
    return refused({ where, found: 'a damaged TIFF, or one without a place', accepted: 'a whole GeoTIFF' });
  }
}

/** The coordinates by the codes of EPSG, or by the code of the projection where the file made its own system. */
function systemOf(keys: Readonly<Record<string, unknown>>): Result<TerrainSystem> {
  const code = (name: string) => (typeof keys[name] === 'number' ? keys[name] : 0);
  const projected = code('ProjectedCSTypeGeoKey');
  const projection = projected === USER_DEFINED ? code('ProjectionGeoKey') : 0;
  const accepted = 'WGS84 degrees, UTM, the British national grid (27700) or the European grid (3035)';
  if (code('GTModelTypeGeoKey') === 2 || (projected === 0 && code('GeographicTypeGeoKey') !== 0)) {
    return understood({ kind: 'degrees' });
  }
  if (projected === 27_700) return understood({ kind: 'nationalGrid' });
  if (projected === 3035) return understood({ kind: 'equalAreaEurope' });
  for (const [first, hemisphere, found] of [
    [32_600, 'N', projected],
    [32_700, 'S', projected],
    // ETRS89 and NAD83: within a metre or two of WGS84.
    [25_800, 'N', projected],
    [26_900, 'N', projected],
    [16_000, 'N', projection],
    [16_100, 'S', projection],
  ] as const) {
    const zone = found - first;
    if (zone >= 1 && zone <= 60) return understood({ kind: 'utm', zone, hemisphere });
  }
  const found = projected === 0 ? 'no coordinates' : `coordinates of the code ${told(projected)}`;
  return refused({ where, found, accepted });
}

/** What a unit of height is [m]. */
function unitM(keys: Readonly<Record<string, unknown>>): number {
  const unit = keys['VerticalUnitsGeoKey'];
  if (unit === 9002) return FOOT_M;
  return unit === 9003 ? US_FOOT_M : 1;
}
