/** The tables of profiles: grids of colours with curves before and behind, of both versions. */
import { readCurveAt } from './icc-curve.ts';

/** Row by row. */
export type IccMatrix = readonly [
  ...[number, number, number],
  ...[number, number, number],
  ...[number, number, number],
];

/** Curves in, a grid, curves out; channels 0 to 1 as the profile counts them. */
export interface IccTable {
  readonly inputs: readonly Float32Array[];
  readonly gridPoints: readonly number[];
  /** The last input runs fastest; each point has a value for each output. */
  readonly grid: Float32Array;
  readonly outputs: readonly Float32Array[];
  readonly matrixPart: {
    readonly curves: readonly Float32Array[];
    readonly matrix: IccMatrix;
    readonly offset: readonly [number, number, number];
  } | null;
  /** How the side of the connection space counts. */
  readonly connection: 'lab16' | 'lab' | 'xyz';
}

type Tag = { readonly view: DataView; readonly kind: string };

const MOST_GRID = 4_000_000;

/** @returns null where the table is cut off or of a kind that pictures do not use */
export function readTable({ view, kind }: Tag, isXyz: boolean): IccTable | null {
  try {
    if (kind === 'mft1' || kind === 'mft2') return readOld(view, kind, isXyz);
    if (kind === 'mAB ' || kind === 'mBA ') return readNew(view, kind, isXyz);
    return null;
  } catch (error) {
    // Reading beyond the tag's end.
    if (error instanceof RangeError) return null;
    throw error;
  }
}

/** @source ICC.1:2022, 10.10 (lut16Type) and 10.11 (lut8Type); their matrix applies to XYZ alone, which is refused here */
function readOld(view: DataView, kind: 'mft1' | 'mft2', isXyz: boolean): IccTable | null {
  const [inputs, outputs, points] = [view.getUint8(8), view.getUint8(9), view.getUint8(10)];
  if (isXyz || inputs < 1 || inputs > 4 || outputs < 1 || outputs > 4 || points < 2) return null;
  const wide = kind === 'mft2';
  const inputEntries = wide ? view.getUint16(48) : 256;
  const outputEntries = wide ? view.getUint16(50) : 256;
  let at = wide ? 52 : 48;
  const take = (count: number) => {
    const values = new Float32Array(count);
    for (let i = 0; i < count; i += 1) {
      values[i] = wide ? view.getUint16(at) / 65_535 : view.getUint8(at) / 255;
      at += wide ? 2 : 1;
    }
    return values;
  };
  const size = points ** inputs * outputs;
  if (inputEntries < 2 || outputEntries < 2 || size > MOST_GRID) return null;
  return {
    inputs: Array.from({ length: inputs }, () => take(inputEntries)),
    gridPoints: new Array<number>(inputs).fill(points),
    grid: take(size),
    outputs: Array.from({ length: outputs }, () => take(outputEntries)),
    matrixPart: null,
    connection: wide ? 'lab16' : 'lab',
  };
}

/** @source ICC.1:2022, 10.12 (lutAToBType) and 10.13 (lutBToAType) */
function readNew(view: DataView, kind: 'mAB ' | 'mBA ', isXyz: boolean): IccTable | null {
  const [inputs, outputs] = [view.getUint8(8), view.getUint8(9)];
  if (inputs < 1 || inputs > 4 || outputs < 1 || outputs > 4) return null;
  const [b, matrix, m, clut, a] = [12, 16, 20, 24, 28].map((at) => view.getUint32(at)) as [
    number,
    number,
    number,
    number,
    number,
  ];
  const connectionSide = 3;
  const deviceSide = kind === 'mAB ' ? inputs : outputs;
  const bCurves = curvesAt(view, b, connectionSide);
  const aCurves = a === 0 ? identityCurves(deviceSide) : curvesAt(view, a, deviceSide);
  if (bCurves === null || aCurves === null) return null;
  let matrixPart: IccTable['matrixPart'] = null;
  if (matrix !== 0) {
    const curves = m === 0 ? identityCurves(3) : curvesAt(view, m, 3);
    if (curves === null) return null;
    const e = Array.from({ length: 12 }, (_, i) => view.getInt32(matrix + 4 * i) / 65_536);
    matrixPart = {
      curves,
      matrix: e.slice(0, 9) as unknown as IccMatrix,
      offset: e.slice(9) as unknown as readonly [number, number, number],
    };
  }
  const grid = clut === 0 ? identityGrid(inputs, outputs) : gridAt(view, clut, inputs, outputs);
  if (grid === null) return null;
  return {
    inputs: kind === 'mAB ' ? aCurves : bCurves,
    ...grid,
    outputs: kind === 'mAB ' ? bCurves : aCurves,
    matrixPart,
    connection: isXyz ? 'xyz' : 'lab',
  };
}

const identityCurves = (count: number) => Array.from({ length: count }, () => Float32Array.from([0, 1]));

function curvesAt(view: DataView, start: number, count: number): Float32Array[] | null {
  const curves: Float32Array[] = [];
  let at = start;
  for (let i = 0; i < count; i += 1) {
    const read = readCurveAt(view, at);
    if (read === null) return null;
    curves.push(read.curve);
    // Each curve begins at a multiple of four bytes.
    at += Math.ceil(read.bytes / 4) * 4;
  }
  return curves;
}

function gridAt(view: DataView, start: number, inputs: number, outputs: number) {
  const gridPoints = Array.from({ length: inputs }, (_, i) => view.getUint8(start + i));
  const precision = view.getUint8(start + 16);
  const size = gridPoints.reduce((product, points) => product * points, outputs);
  if (gridPoints.some((points) => points < 2) || size > MOST_GRID) return null;
  if (precision !== 1 && precision !== 2) return null;
  const grid = new Float32Array(size);
  for (let i = 0; i < size; i += 1) {
    grid[i] =
      precision === 1 ? view.getUint8(start + 20 + i) / 255 : view.getUint16(start + 20 + 2 * i) / 65_535;
  }
  return { gridPoints, grid };
}

/** Without a grid the channels go straight through, which needs as many in as out. */
function identityGrid(inputs: number, outputs: number) {
  if (inputs !== outputs) return null;
  const corners = 2 ** inputs;
  const grid = new Float32Array(corners * outputs);
  for (let corner = 0; corner < corners; corner += 1) {
    for (let c = 0; c < outputs; c += 1) grid[corner * outputs + c] = (corner >> (inputs - 1 - c)) & 1;
  }
  return { gridPoints: new Array<number>(inputs).fill(2), grid };
}
