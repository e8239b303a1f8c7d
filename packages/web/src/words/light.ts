/** Light in words. */

/** Soft, softened or hard, by the share that comes from the sky [0..1]; dark below a thousandth of full sun. */
export function lightWord(illuminanceLux: number | null, diffuseShare: number | null): string {
  if (illuminanceLux === null) return 'light not known';
  if (illuminanceLux < 50) return 'dark';
  if (diffuseShare === null || diffuseShare >= 0.85)
    return illuminanceLux < 1500 ? 'soft, dim light' : 'soft light';
  return diffuseShare >= 0.5 ? 'softened light' : 'hard light';
}
