import { describe, expect, it } from 'vitest';
import { DomainError } from '../../../domain-error.ts';
import { explainPath } from './swing-path.ts';
import { swayOfDisplacements, type WatchedPath } from './sway-of-displacements.ts';

/** Seeded normal deviates (mulberry32, Box & Muller). */
function normals(seed: number): () => number {
  let a = seed;
  const uniform = (): number => {
    a = (a + 0x6d2b79f5) | 0;
    let t = Math.imul(a ^ (a >>> 15), 1 | a);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
  return () => Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform());
}

/** A damped oscillator driven by white noise, by small steps of Euler & Cromer, independent of the filter's closed form. */
function drivenPath(seed: number, f: number, zeta: number, sigma: number, spanS: number) {
  const [w, dt] = [2 * Math.PI * f, 1 / 4000];
  const draw = normals(seed);
  let [x, v] = [sigma * draw(), w * sigma * draw()];
  const kick = 2 * w * sigma * Math.sqrt(zeta * w * dt);
  const out: { t: number; x: number; v: number }[] = [];
  for (let i = 0; i * dt <= spanS; i++) {
    out.push({ t: i * dt, x, v });
    v += (-2 * zeta * w * v - w * w * x) * dt + kick * draw();
    x += v * dt;
  }
  return out;
}

/** Spread and frequency of what was drawn, about its mean and lean, at every step. */
function truthOf(path: readonly { t: number; x: number; v: number }[]) {
  const n = path.length;
  const mean = (of: (p: (typeof path)[number]) => number) => path.reduce((s, p) => s + of(p), 0) / n;
  const [mt, mx] = [mean((p) => p.t), mean((p) => p.x)];
  const slope = mean((p) => (p.t - mt) * (p.x - mx)) / mean((p) => (p.t - mt) ** 2);
  const sx = Math.sqrt(mean((p) => (p.x - mx - slope * (p.t - mt)) ** 2));
  const sv = Math.sqrt(mean((p) => p.v ** 2));
  return { sx, sv, f: sv / (2 * Math.PI * sx) };
}

function swing(found: WatchedPath): WatchedPath & { kind: 'swing' } {
  if (found.kind !== 'swing') throw new Error(`expected a swing but received ${JSON.stringify(found)}`);
  return found;
}

const times = (count: number, gapS: number): number[] => Array.from({ length: count }, (_, i) => i * gapS);

describe('sway of displacements', () => {
  it('known truth: a sinusoid at even moments, six a period, with a slow lean', () => {
    for (const f of [0.5, 0.9, 1.4, 2.3]) {
      const timesS = times(50, 1 / (6 * f));
      const draw = normals(3);
      const u = timesS.map((t) => 4 * Math.cos(2 * Math.PI * f * t + 0.7) + 0.2 * t);
      const found = swing(
        swayOfDisplacements({
          timesS,
          x: u.map((value) => 0.8 * value + 0.05 * draw()),
          y: u.map((value) => -0.6 * value + 0.05 * draw()),
        }),
      );
      expect(Math.abs(found.observed.amplitude / 4 - 1)).toBeLessThan(0.02);
      expect(Math.abs(found.observed.frequencyHz / f - 1)).toBeLessThan(0.02);
      expect(Math.abs(found.observed.speed / (Math.SQRT2 * Math.PI * f * 4) - 1)).toBeLessThan(0.03);
      // To the right and up, as seen.
      expect(Math.abs(found.directionDeg - (Math.atan2(0.6, 0.8) * 180) / Math.PI)).toBeLessThan(0.6);
      expect(found.shareAlong).toBeGreaterThan(0.99);
      const [low, high] = found.process.frequencyHz.interval90;
      expect(low <= f && f <= high).toBe(true);
    }
  });

  it('known truth: a driven oscillator over 8 periods: what it did within 5 % and 3 %, the process within its interval', () => {
    const RUNS = 60;
    const covered = { displacement: 0, frequency: 0, speed: 0 };
    const [f, zeta, sigma] = [1.3, 0.08, 3];
    for (let seed = 1; seed <= RUNS; seed++) {
      const path = drivenPath(seed, f, zeta, sigma, 8.5 / f);
      const draw = normals(1000 + seed);
      // Uneven by a tenth of the gap, as a camera's buffer makes it.
      const at = times(51, 1 / (6 * f)).map((t) =>
        Math.max(0, Math.min(path.length - 1, Math.round(4000 * (t + (0.03 / f) * (draw() / 3))))),
      );
      const seen = at.map((i) => path[i]!);
      const found = swing(
        swayOfDisplacements({
          timesS: seen.map(({ t }) => t),
          x: seen.map(({ x }) => x + 0.05 * draw()),
          y: seen.map(() => 0.05 * draw()),
        }),
      );
      const truth = truthOf(path.slice(at[0], at[at.length - 1]! + 1));
      expect(Math.abs(found.observed.displacement / truth.sx - 1)).toBeLessThan(0.05);
      expect(Math.abs(found.observed.frequencyHz / truth.f - 1)).toBeLessThan(0.03);
      const within = ([low, high]: readonly [number, number], value: number) => low <= value && value <= high;
      if (within(found.process.displacement.interval90, sigma)) covered.displacement++;
      if (within(found.process.frequencyHz.interval90, f)) covered.frequency++;
      if (within(found.process.speed.interval90, 2 * Math.PI * f * sigma)) covered.speed++;
    }
    // 57, 54 and 57 of 60 when written. Nine of ten, less three standard errors of 60 runs (0.039).
    for (const count of Object.values(covered)) expect(count / RUNS).toBeGreaterThan(0.78);
  });

  it('names what frames too rare cannot tell apart, and tells it by uneven ones', () => {
    // 2.7 Hz at 4 frames a second looks like 1.3 Hz and like 5.3 Hz.
    const sway = (timesS: readonly number[]) => ({
      timesS,
      x: timesS.map((t) => Math.sin(2 * Math.PI * 2.7 * t)),
      y: timesS.map(() => 0),
    });
    const even = swayOfDisplacements(sway(times(40, 0.25)));
    if (even.kind !== 'ambiguous') throw new Error(even.kind);
    for (const f of [1.3, 2.7, 5.3]) expect(even.candidatesHz.some((c) => Math.abs(c - f) < 0.02)).toBe(true);
    const uneven = times(40, 0.25).map((t, i) => t + 0.07 * Math.sin(17 * i));
    expect(swing(swayOfDisplacements(sway(uneven))).process.frequencyHz.median).toBeCloseTo(2.7, 1);
  });

  it('names the faster swings that even frames would show alike', () => {
    const timesS = times(50, 1 / 4.8);
    const x = timesS.map((t) => Math.sin(2 * Math.PI * 0.8 * t));
    const found = swing(swayOfDisplacements({ timesS, x, y: x }));
    expect(found.lookAlikesHz[0]).toBeCloseTo(4, 1);
    expect(swing(swayOfDisplacements({ timesS, x, y: x }, { fastestHz: 2.4 })).lookAlikesHz).toEqual([]);
  });

  it('says that there is none: few frames, little time, noise alone', () => {
    const few = times(5, 0.1);
    expect(swayOfDisplacements({ timesS: few, x: few, y: few })).toMatchObject({ why: 'tooFewFrames' });
    const short = times(40, 0.02);
    const slow = short.map((t) => Math.sin(2 * Math.PI * t));
    expect(swayOfDisplacements({ timesS: short, x: slow, y: slow }).kind).toBe('none');
    const long = times(60, 0.1);
    const draw = normals(11);
    expect(swayOfDisplacements({ timesS: long, x: long.map(draw), y: long.map(draw) })).toMatchObject({
      why: 'noSwing',
    });
    expect(swayOfDisplacements({ timesS: long, x: long.map(() => 2), y: long.map(() => 1) })).toMatchObject({
      why: 'noSwing',
    });
  });

  it('the filter agrees with the dense normal density of the same process', () => {
    const model = { frequencyHz: 1.2, damping: 0.15, errorShare: 0.02 };
    const timesS = Float64Array.of(0, 0.1, 0.33, 0.5, 0.62, 0.9);
    const one = { timesS, along: Float64Array.of(1, 0.4, -1.1, 0.2, 0.9, -0.3) };
    const other = { timesS, along: Float64Array.of(0.2, -0.5, 0.6, 1.3, -0.8, 0.1) };
    const dense = (path: typeof one) => denseLogLikelihood(path.timesS, path.along, model);
    expect(explainPath(one, model).logLikelihood - explainPath(other, model).logLikelihood).toBeCloseTo(
      dense(one) - dense(other),
      9,
    );
  });

  it.each([
    ['moments that go back', { timesS: [0, 2, 1], x: [0, 0, 0], y: [0, 0, 0] }],
    ['too few numbers', { timesS: [0, 1], x: [0], y: [0, 0] }],
    ['a displacement that is none', { timesS: [0, 1], x: [0, NaN], y: [0, 0] }],
  ])('refuses %s', (_, displacements) => {
    expect(() => swayOfDisplacements(displacements)).toThrow(DomainError);
  });
});

/** -(n - 2)/2 ln of y^T (K^-1 - K^-1 X (X^T K^-1 X)^-1 X^T K^-1) y, K the oscillator's autocorrelation and the errors. */
function denseLogLikelihood(
  t: Float64Array,
  y: Float64Array,
  model: { frequencyHz: number; damping: number; errorShare: number },
): number {
  const w = 2 * Math.PI * model.frequencyHz;
  const root = Math.sqrt(1 - model.damping ** 2);
  const R = (lag: number) =>
    Math.exp(-model.damping * w * lag) *
    (Math.cos(w * root * lag) + (model.damping / root) * Math.sin(w * root * lag));
  const n = t.length;
  const K = Array.from(t, (a, i) =>
    Array.from(t, (b, j) => R(Math.abs(a - b)) + (i === j ? model.errorShare : 0)),
  );
  const columns = [Array.from(y), Array.from(t, () => 1), Array.from(t)];
  const solved = columns.map((column) => gauss(K, column));
  const dot = (a: number[], b: number[]) => a.reduce((s, value, i) => s + value * b[i]!, 0);
  const M = [1, 2].map((i) => [1, 2].map((j) => dot(columns[i]!, solved[j]!)));
  const beta = gauss(M, [dot(columns[1]!, solved[0]!), dot(columns[2]!, solved[0]!)]);
  const S =
    dot(columns[0]!, solved[0]!) -
    beta[0]! * dot(columns[1]!, solved[0]!) -
    beta[1]! * dot(columns[2]!, solved[0]!);
  return (-(n - 2) / 2) * Math.log(S);
}

function gauss(A: readonly (readonly number[])[], b: readonly number[]): number[] {
  const rows = A.map((row, i) => [...row, b[i]!]);
  const n = rows.length;
  for (let k = 0; k < n; k++) {
    for (let i = 0; i < n; i++) {
      if (i === k) continue;
      const factor = rows[i]![k]! / rows[k]![k]!;
      for (let j = k; j <= n; j++) rows[i]![j]! -= factor * rows[k]![j]!;
    }
  }
  return rows.map((row, i) => row[n]! / row[i]!);
}
