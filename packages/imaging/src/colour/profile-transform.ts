/** Colours through a profile: by matrix and curves, or by its tables; to the connection space and back. */
import { labToXyz, xyzToLab } from './lab.ts';
import { apply, invert, type Matrix3, type Triple } from './matrix.ts';
import { PROFILE_WHITE } from './white.ts';

/** A curve as equally spaced samples from 0 to 1, straight between them. At least two. */
export type Curve = Float32Array;

/**
 * A profile's table: curves in, a grid, curves out; between the grid's points straight lines. Channels 0 to 1 as the
 * profile counts them; where one side is the connection space, `connection` says how it counts.
 */
export interface ProfileTable {
  readonly inputs: readonly Curve[];
  /** Points of the grid along each input. */
  readonly gridPoints: readonly number[];
  /** The grid, the last input running fastest, each point with a value for each output. */
  readonly grid: Float32Array;
  readonly outputs: readonly Curve[];
  /** A matrix and offsets with curves between grid and connection space, as version 4 allows; null where there is none. */
  readonly matrixPart: {
    readonly curves: readonly Curve[];
    readonly matrix: Matrix3;
    readonly offset: Triple;
  } | null;
  readonly connection: 'lab16' | 'lab' | 'xyz';
}

/** What is known of a profile for pictures. */
export type ProfileColours =
  | { readonly kind: 'matrix'; readonly curves: readonly [Curve, Curve, Curve]; readonly toXyz: Matrix3 }
  | {
      readonly kind: 'table';
      readonly channels: number;
      readonly toConnection: ProfileTable;
      readonly fromConnection: ProfileTable | null;
    };

/** A value through a curve; cut to its ends. */
export function throughCurve(curve: Curve, value: number): number {
  const last = curve.length - 1;
  const at = Math.min(1, Math.max(0, value)) * last;
  const i = Math.min(last - 1, Math.trunc(at));
  return curve[i]! + (curve[i + 1]! - curve[i]!) * (at - i);
}

/** The value that a rising curve takes to `wanted`; by halving. */
export function backThroughCurve(curve: Curve, wanted: number): number {
  let low = 0;
  let high = 1;
  for (let i = 0; i < 24; i += 1) {
    const middle = (low + high) / 2;
    if (throughCurve(curve, middle) < wanted) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

/** Device values (0 to 1) to XYZ of the connection space, D50. */
export function profileToXyz(profile: ProfileColours, device: readonly number[]): Triple {
  if (profile.kind === 'matrix') {
    const [r, g, b] = profile.curves.map((curve, i) => throughCurve(curve, device[i] ?? 0));
    return apply(profile.toXyz, [r!, g!, b!]);
  }
  const table = profile.toConnection;
  const out = throughGrid(table, device);
  if (table.matrixPart === null) return connectionToXyz(table, out);
  const { curves, matrix, offset } = table.matrixPart;
  const m = curves.map((curve, i) => throughCurve(curve, out[i]!)) as unknown as Triple;
  const [x, y, z] = apply(matrix, m);
  const after = [x + offset[0], y + offset[1], z + offset[2]];
  return connectionToXyz(
    table,
    after.map((value, i) => throughCurve(table.outputs[i]!, value)),
  );
}

/**
 * XYZ of the connection space to device values, 0 to 1; what the device cannot show is cut or as its table has it.
 *
 * @returns null where the profile has no way back
 */
export function xyzToProfile(profile: ProfileColours, xyz: Triple): readonly number[] | null {
  if (profile.kind === 'matrix') {
    const linear = apply(invert(profile.toXyz), xyz);
    return linear.map((value, i) => backThroughCurve(profile.curves[i]!, value));
  }
  const table = profile.fromConnection;
  if (table === null) return null;
  const connection = xyzToConnection(table, xyz);
  if (table.matrixPart === null) return throughGrid(table, connection);
  const { curves, matrix, offset } = table.matrixPart;
  const b = connection.map((value, i) => throughCurve(table.inputs[i]!, value)) as unknown as Triple;
  const [x, y, z] = apply(matrix, b);
  const m = [x + offset[0], y + offset[1], z + offset[2]].map((value, i) => throughCurve(curves[i]!, value));
  return throughGrid(table, m, true);
}

/** Curves in, grid, curves out; in version 4 with a matrix the curves of that side are applied by the caller. */
function throughGrid(table: ProfileTable, values: readonly number[], inputsDone = false): number[] {
  const { inputs, gridPoints, grid, outputs, matrixPart } = table;
  const n = gridPoints.length;
  const channels = outputs.length;
  const low: number[] = [];
  const part: number[] = [];
  for (let i = 0; i < n; i += 1) {
    const value = inputsDone
      ? Math.min(1, Math.max(0, values[i]!))
      : throughCurve(inputs[i]!, values[i] ?? 0);
    const points = gridPoints[i]!;
    const at = value * (points - 1);
    low[i] = Math.min(points - 2, Math.trunc(at));
    part[i] = at - low[i]!;
  }
  const strides: number[] = [];
  let stride = channels;
  for (let i = n - 1; i >= 0; i -= 1) {
    strides[i] = stride;
    stride *= gridPoints[i]!;
  }
  const out = new Array<number>(channels).fill(0);
  for (let corner = 0; corner < 1 << n; corner += 1) {
    let weight = 1;
    let at = 0;
    for (let i = 0; i < n; i += 1) {
      const up = (corner >> i) & 1;
      weight *= up === 1 ? part[i]! : 1 - part[i]!;
      at += (low[i]! + up) * strides[i]!;
    }
    if (weight === 0) continue;
    for (let c = 0; c < channels; c += 1) out[c] = out[c]! + weight * grid[at + c]!;
  }
  const outputsLater = matrixPart !== null && !inputsDone;
  return outputsLater ? out : out.map((value, c) => throughCurve(outputs[c]!, value));
}

/** @source ICC.1:2022, 6.3.4.2 and 10.10 (16-bit Lab of older tables: 0xFF00 for 100), 6.3.4.1 (XYZ: 1 + 32767/32768) */
const XYZ_MOST = 1 + 32_767 / 32_768;
const OLD_MOST = 65_535 / 65_280;

function connectionToXyz({ connection }: ProfileTable, v: readonly number[]): Triple {
  if (connection === 'xyz') return [v[0]! * XYZ_MOST, v[1]! * XYZ_MOST, v[2]! * XYZ_MOST];
  const most = connection === 'lab16' ? OLD_MOST : 1;
  return labToXyz([v[0]! * 100 * most, v[1]! * 255 * most - 128, v[2]! * 255 * most - 128], PROFILE_WHITE);
}

function xyzToConnection({ connection }: ProfileTable, xyz: Triple): number[] {
  if (connection === 'xyz') return xyz.map((value) => value / XYZ_MOST);
  const [L, a, b] = xyzToLab(xyz, PROFILE_WHITE);
  const most = connection === 'lab16' ? OLD_MOST : 1;
  return [L / 100 / most, (a + 128) / 255 / most, (b + 128) / 255 / most];
}
