/**
 * SRTM tiles (`.hgt`): one degree square, big-endian 16 bit, rows from the north, corners included. The name says
 * where the tile lies; nothing inside does.
 *
 * @source NASA/USGS, SRTM topography, documentation of version 2.1
 */
import { refused, told, understood, type Result } from '../result.ts';
import { heightsOf, type Terrain } from './terrain.ts';

const NAME = /(?:^|[/\\])([NS])(\d{2})([EW])(\d{3})[^/\\]*$/i;
const VOID = -32_768;
/** Nodes along a side, and the arc seconds between them. */
const SIDES = [
  { nodes: 1201, arcSeconds: 3 },
  { nodes: 3601, arcSeconds: 1 },
] as const;

/** Whether a name is that of a tile. */
export function looksLikeHgt(fileName: string): boolean {
  return /\.hgt$/i.test(fileName);
}

/**
 * A tile as terrain.
 *
 * @param fileName "N44W072.hgt": the south-western corner
 * @returns refused where the name does not say the corner, or the size is that of no tile
 */
export function readHgt(bytes: Uint8Array, fileName: string): Result<Terrain> {
  const [, ns = '', latitude = '', ew = '', longitude = ''] = NAME.exec(fileName) ?? [];
  const where = 'terrain';
  if (ns === '') {
    const accepted = 'a name that says the south-western corner: N44W072.hgt';
    return refused({ where, found: `the name ${told(fileName)}`, accepted });
  }
  const south = Number(latitude) * (ns.toUpperCase() === 'S' ? -1 : 1);
  const west = Number(longitude) * (ew.toUpperCase() === 'W' ? -1 : 1);
  if (Math.abs(south) > 89 || west < -180 || west > 179) {
    return refused({ where, found: `the name ${told(fileName)}`, accepted: 'a corner on Earth' });
  }
  const side = SIDES.find(({ nodes }) => nodes * nodes * 2 === bytes.length);
  if (side === undefined) {
    const accepted = SIDES.map(({ nodes }) => `${nodes * nodes * 2}`).join(' or ');
    return refused({ where, found: `${bytes.length} bytes`, accepted: `${accepted} bytes` });
  }
  const { nodes, arcSeconds } = side;
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const raw = Int16Array.from({ length: nodes * nodes }, (_, i) => view.getInt16(i * 2));
  const { heightsM, voids, voidCount } = heightsOf(raw, VOID, 1);
  const step = 1 / (nodes - 1);
  const tile = `${ns}${latitude}${ew}${longitude}`.toUpperCase();
  return understood(
    {
      source: `SRTM tile ${tile}, ${arcSeconds} arc seconds`,
      ...{ columns: nodes, rows: nodes, heightsM, voids, west },
      system: { kind: 'degrees' },
      north: south + 1,
      stepEast: step,
      stepSouth: step,
    },
    voidCount === 0 ? [] : [`${voidCount} of ${nodes * nodes} heights are not known.`],
  );
}
