/** What moved beside the whole: a smooth displacement at each node of a grid, coarse to fine, bounded. */
import type { Kernel } from '../kernel.ts';
import { gridOfTerms, layGrid, stillGrid, type DisplacementGrid } from './displacement.ts';
import type { LaidLevel, LaidPicture } from './laid-picture.ts';
import { relaxField } from './relax-field.ts';
import { samplingStep } from './refine.ts';
import type { SimilarityTerms } from './similarity.ts';

/** How a field is found; see `findLocalMotion`. */
export interface LocalMotionRules {
  /** Nodes stand so many px apart, at every size but the finest, where they stand twice as far apart. */
  readonly cellPx: number;
  /** Halvings of the pictures at the coarsest size, and at the one where it is decided what moved. */
  readonly halvings: number;
  readonly decidingHalvings: number;
  /** Stiffness between neighbouring nodes, against the mean structure at a node [1]. */
  readonly stiffness: number;
  /** Pull of each node towards no local motion, in the same measure [1]. */
  readonly pull: number;
  /** The least share of the differences that a motion must explain where it is believed [0..1]. */
  readonly leastGain: number;
  /** The least motion that is believed [px at the size given]. */
  readonly leastPx: number;
  /** No node goes farther than this [px at the size given]. */
  readonly boundPx: number;
}

interface Light {
  readonly gain: number;
  readonly offset: number;
  readonly spread: number;
}

const STEPS = 3;
/** Pull where nothing moved, against the mean structure at a node. */
const HELD = 30;

/**
 * Finds local motion beside a similarity: at each size the robust differences are minimised over displacements at the
 * nodes, with a stiffness between neighbours, so that places without structure go along with those around them.
 *
 * Defocus that differs makes false motion of a fraction of a pixel at every edge. So at a small size, where it matters
 * little, only those places are kept whose motion explains a good share of the differences; the rest is held still. A
 * motion that jumps (a petal before its background) is smoothed over about a cell.
 *
 * @param terms reference to moving, px from the top-left pixels
 * @param light reference = gain x moving + offset, and the residual above which a pixel counts less
 * @returns nodes of the reference, to be added to those of the similarity [px]; null where nothing moved
 * @source Horn & Schunck 1981 (smoothness), Lucas & Kanade 1981 (sums over a neighbourhood): from memory
 */
export function findLocalMotion(
  kernel: Kernel,
  reference: LaidPicture,
  moving: LaidPicture,
  terms: SimilarityTerms,
  light: Light,
  rules: LocalMotionRules,
): DisplacementGrid | null {
  const coarsest = Math.min(rules.halvings, reference.length - 1, moving.length - 1);
  const deciding = Math.min(rules.decidingHalvings, coarsest);
  let field: DisplacementGrid | null = null;
  let moved: Float32Array | null = null;
  for (let i = coarsest; i >= 0; i--) {
    const level = reference[i]!;
    const pair = { reference: level, moving: moving[i]!, terms: scaledTerms(terms, level.factor), light };
    const cellPx = i === 0 ? 2 * rules.cellPx : rules.cellPx;
    const scale = { bound: rules.boundPx / level.factor, least: rules.leastPx / level.factor };
    const now: DisplacementGrid = field === null ? stillGrid(level, cellPx) : regrid(field, level, cellPx);
    settle(kernel, pair, now, rules, scale.bound, i < deciding ? moved : null);
    if (i === deciding) {
      moved = believed(kernel, pair, now, rules.leastGain, scale.least);
      if (moved === null) return null;
      for (let k = 0; k < moved.length; k++) {
        now.dx[k]! *= moved[k]!;
        now.dy[k]! *= moved[k]!;
      }
    } else if (i < deciding && i > 0 && moved !== null) {
      moved = spread(moved, field!, now);
    }
    field = now;
  }
  return field;
}

interface Pair {
  readonly reference: LaidLevel;
  readonly moving: LaidLevel;
  readonly terms: SimilarityTerms;
  readonly light: Light;
}

/** The terms for pictures `factor` times smaller, whose pixels are means of factor x factor. */
function scaledTerms({ a, b, x, y }: SimilarityTerms, factor: number): SimilarityTerms {
  const half = (factor - 1) / 2;
  return {
    a,
    b,
    x: (a * half - b * half + x - half) / factor,
    y: (b * half + a * half + y - half) / factor,
  };
}

/** Reads node values of one grid at the nodes of a grid of twice the pixels. */
function reader(field: DisplacementGrid, grid: DisplacementGrid) {
  const share = grid.cellPx / 2 / field.cellPx;
  return (values: Float32Array, row: number, column: number): number => {
    const y = Math.min(field.rows - 1.001, row * share);
    const x = Math.min(field.columns - 1.001, column * share);
    const r = Math.floor(y);
    const c = Math.floor(x);
    const from = r * field.columns + c;
    const [u, v] = [x - c, y - r];
    return (
      (1 - v) * ((1 - u) * values[from]! + u * values[from + 1]!) +
      v * ((1 - u) * values[from + field.columns]! + u * values[from + field.columns + 1]!)
    );
  };
}

function regrid(field: DisplacementGrid, level: LaidLevel, cellPx: number): DisplacementGrid {
  const grid = stillGrid(level, cellPx);
  const read = reader(field, grid);
  for (let row = 0, at = 0; row < grid.rows; row++) {
    for (let column = 0; column < grid.columns; column++, at++) {
      grid.dx[at] = 2 * read(field.dx, row, column);
      grid.dy[at] = 2 * read(field.dy, row, column);
    }
  }
  return grid;
}

function spread(moved: Float32Array, from: DisplacementGrid, to: DisplacementGrid): Float32Array {
  const read = reader(from, to);
  return Float32Array.from(to.dx, (_, i) => read(moved, Math.floor(i / to.columns), i % to.columns));
}

/** Improves a field at one size, in place; `moved` (0..1 a node) holds still what is not believed to have moved. */
function settle(
  kernel: Kernel,
  pair: Pair,
  field: DisplacementGrid,
  rules: LocalMotionRules,
  bound: number,
  moved: Float32Array | null,
): void {
  const count = field.dx.length;
  for (let step = 0; step < STEPS; step++) {
    const sums = sumsOf(kernel, pair, field);
    let mean = 0;
    for (let at = 0; at < sums.length; at += 6) mean += (sums[at]! + sums[at + 2]!) / (2 * count);
    const pulls = Float32Array.from(field.dx, (_, i) => {
      const still = moved === null || moved.length !== count ? 0 : 1 - moved[i]!;
      return mean * (rules.pull + HELD * still * still);
    });
    if (relaxField(sums, field, rules.stiffness * mean, pulls, bound) < 0.02) break;
  }
}

function sumsOf(kernel: Kernel, pair: Pair, field: DisplacementGrid): Float32Array {
  const { reference, moving, terms, light } = pair;
  const { cellPx, columns, rows } = field;
  const mark = kernel.mark();
  const grid = gridOfTerms(terms, reference, cellPx);
  for (let i = 0; i < grid.dx.length; i++) {
    grid.dx[i]! += field.dx[i]!;
    grid.dy[i]! += field.dy[i]!;
  }
  const nodes = layGrid(kernel, grid);
  const out = kernel.reserve(field.dx.length * 24);
  kernel.run.nodeSums(
    reference.pointer,
    reference.width,
    reference.height,
    moving.pointer,
    moving.width,
    moving.height,
    nodes,
    cellPx,
    columns,
    rows,
    light.gain,
    light.offset,
    samplingStep(reference, 600_000),
    light.spread,
    out,
  );
  const sums = kernel.float32(out, field.dx.length * 6).slice();
  kernel.release(mark);
  return sums;
}

/** How far each node is believed to have moved [0..1], or null where none is. */
function believed(
  kernel: Kernel,
  pair: Pair,
  field: DisplacementGrid,
  leastGain: number,
  least: number,
): Float32Array | null {
  const { columns, rows } = field;
  const still = sumsOf(kernel, pair, stillGrid(pair.reference, field.cellPx));
  const now = sumsOf(kernel, pair, field);
  let mean = 0;
  for (let at = 5; at < still.length; at += 6) mean += still[at]! / field.dx.length;
  const sure = Float32Array.from(field.dx, (dx, i) => {
    const before = around(still, columns, rows, i);
    const gain = 1 - around(now, columns, rows, i) / before;
    return before > 0.5 * mean && gain > leastGain && Math.hypot(dx, field.dy[i]!) > least ? 1 : 0;
  });
  if (!sure.includes(1)) return null;
  // The motion reaches over the node's neighbours, falling off at the second.
  return widened(widened(sure, columns, rows, 1), columns, rows, 0.5);
}

/** The mean of squared differences over a node and its eight neighbours. */
function around(sums: Float32Array, columns: number, rows: number, node: number): number {
  const row = Math.floor(node / columns);
  const column = node % columns;
  let sum = 0;
  let count = 0;
  for (let r = Math.max(0, row - 1); r <= Math.min(rows - 1, row + 1); r++) {
    for (let c = Math.max(0, column - 1); c <= Math.min(columns - 1, column + 1); c++) {
      sum += sums[(r * columns + c) * 6 + 5]!;
      count++;
    }
  }
  return sum / count;
}

function widened(values: Float32Array, columns: number, rows: number, share: number): Float32Array {
  return values.map((value, i) => {
    const row = Math.floor(i / columns);
    const column = i % columns;
    let most = value;
    for (let r = Math.max(0, row - 1); r <= Math.min(rows - 1, row + 1); r++) {
      for (let c = Math.max(0, column - 1); c <= Math.min(columns - 1, column + 1); c++) {
        most = Math.max(most, share * values[r * columns + c]!);
      }
    }
    return most;
  });
}
