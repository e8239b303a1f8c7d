/**
 * Colour profiles: what they say of the colours of samples, by matrix and curves or by tables.
 *
 * @source ICC.1:2022 (version 4) and ICC.1:2001-04 (version 2)
 */
import { refused, told, understood, type Result } from '../result.ts';
import { iccProfileName } from '../photo/icc-profile-name.ts';
import { readTable, type IccMatrix, type IccTable } from './icc-table.ts';
import { readCurve } from './icc-curve.ts';

/** Colours by matrix (three curves to linear, then XYZ of the connection space) or by tables. */
export type IccColours =
  | {
      readonly kind: 'matrix';
      readonly curves: readonly [Float32Array, Float32Array, Float32Array];
      readonly toXyz: IccMatrix;
    }
  | {
      readonly kind: 'table';
      readonly channels: number;
      readonly toConnection: IccTable;
      /** Null where the profile has no way back: an input profile. */
      readonly fromConnection: IccTable | null;
    };

export interface IccProfile {
  /** The name it gives itself; null where it gives none. */
  readonly name: string | null;
  readonly deviceSpace: 'rgb' | 'cmyk' | 'grey';
  /** What it is made for. */
  readonly use: 'display' | 'input' | 'output' | 'space' | 'other';
  readonly colours: IccColours;
}

const SPACES: Readonly<
  Record<string, { readonly space: IccProfile['deviceSpace']; readonly channels: number }>
> = {
  'RGB ': { space: 'rgb', channels: 3 },
  CMYK: { space: 'cmyk', channels: 4 },
  GRAY: { space: 'grey', channels: 1 },
};
const USES: Readonly<Record<string, IccProfile['use']>> = {
  mntr: 'display',
  scnr: 'input',
  prtr: 'output',
  spac: 'space',
};
const MOST_TAGS = 200;

/** Where a tag's data lie. */
export type TagBytes = { readonly view: DataView; readonly kind: string };

/**
 * Reads a profile for pictures: the colorimetric tables where there are several, else matrix and curves.
 *
 * @returns the profile, or a fault: not a profile, a device space or connection space that pictures do not use
 */
export function readIccProfile(bytes: Uint8Array): Result<IccProfile> {
  const fault = (where: string, found: string, accepted: string) =>
    refused({ where: `profile, ${where}`, found, accepted });
  if (bytes.length < 132) return fault('size', `${bytes.length} bytes`, 'at least 132');
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const text = (at: number) => String.fromCharCode(...bytes.subarray(at, at + 4));
  if (text(36) !== 'acsp') return fault('mark', told(text(36)), '"acsp"');
  const device = SPACES[text(16)];
  if (device === undefined) return fault('device space', told(text(16)), 'RGB, CMYK or GRAY');
  const connection = text(20);
  if (connection !== 'XYZ ' && connection !== 'Lab ') {
    return fault('connection space', told(connection), 'XYZ or Lab');
  }
  const tags = new Map<string, TagBytes>();
  const count = Math.min(view.getUint32(128), MOST_TAGS, Math.floor((bytes.length - 132) / 12));
  for (let i = 0; i < count; i += 1) {
    const entry = 132 + 12 * i;
    const at = view.getUint32(entry + 4);
    const size = view.getUint32(entry + 8);
    if (size < 8 || at + size > bytes.length) continue;
    tags.set(text(entry), { view: new DataView(bytes.buffer, bytes.byteOffset + at, size), kind: text(at) });
  }
  const colours = coloursOf(tags, device.channels, connection);
  if (typeof colours === 'string')
    return fault('colours', colours, 'a matrix with three curves, or whole tables');
  return understood({
    name: iccProfileName(bytes),
    deviceSpace: device.space,
    use: USES[text(12)] ?? 'other',
    colours,
  });
}

function coloursOf(
  tags: ReadonlyMap<string, TagBytes>,
  channels: number,
  connection: 'XYZ ' | 'Lab ',
): IccColours | string {
  const table = (names: readonly string[]): IccTable | null => {
    for (const name of names) {
      const tag = tags.get(name);
      const read = tag === undefined ? null : readTable(tag, connection === 'XYZ ');
      if (read !== null) return read;
    }
    return null;
  };
  const toConnection = table(['A2B1', 'A2B0']);
  if (
    toConnection !== null &&
    toConnection.gridPoints.length === channels &&
    toConnection.outputs.length === 3
  ) {
    const back = table(['B2A1', 'B2A0']);
    const fits = back !== null && back.outputs.length === channels && back.gridPoints.length === 3;
    return { kind: 'table', channels, toConnection, fromConnection: fits ? back : null };
  }
  if (channels !== 3 || connection !== 'XYZ ') return 'no table that can be read';
  const curves = ['rTRC', 'gTRC', 'bTRC'].map((name) => readCurve(tags.get(name)));
  const columns = ['rXYZ', 'gXYZ', 'bXYZ'].map((name) => readXyz(tags.get(name)));
  const [r, g, b] = columns;
  const [cr, cg, cb] = curves;
  if (!r || !g || !b || !cr || !cg || !cb) return 'neither tables nor a matrix with its curves';
  return {
    kind: 'matrix',
    curves: [cr, cg, cb],
    toXyz: [r[0], g[0], b[0], r[1], g[1], b[1], r[2], g[2], b[2]],
  };
}

function readXyz(tag: TagBytes | undefined): readonly [number, number, number] | null {
  if (tag?.kind !== 'XYZ ' || tag.view.byteLength < 20) return null;
  const at = (i: number) => tag.view.getInt32(8 + 4 * i) / 65_536;
  return [at(0), at(1), at(2)];
}
