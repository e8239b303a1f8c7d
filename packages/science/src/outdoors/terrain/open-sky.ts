/** How much of the sky a slope sees. */
import { DomainError, requireInRange } from '../../domain-error.ts';
import { horizonAltitudeDeg, type HorizonProfile } from '../light/horizon.ts';

const degree = Math.PI / 180;
const AZIMUTHS = 720;

/**
 * Share of an even sky's light that falls on sloping ground.
 *
 *   V = mean over az of (cos S sin² Z + sin S cos(az - aspect) (Z - sin Z cos Z))      Z = 90° - H
 *
 * H is the horizon's altitude above the level, the slope's own included; one below the level counts as 0, without
 * which a slope would see the whole sky.
 *
 * @param ground.slopeDeg S [°], 0 to 90
 * @param ground.aspectDeg downslope, from north, clockwise [°]
 * @param profile the horizon of what stands round [°], at least one entry
 * @returns [0..1]
 * @throws DomainError if a number is out of range or the profile empty
 * @source Dozier and Frew 1990, IEEE Trans. Geosci. Remote Sens. 28, 963-969 (FS 10)
 */
export function openSkyShareOfSlope(
  ground: { readonly slopeDeg: number; readonly aspectDeg: number },
  profile: HorizonProfile,
): number {
  if (profile.length === 0) throw new DomainError('empty', 'at least one altitude', 'profile', 0);
  const S = requireInRange('slopeDeg', ground.slopeDeg, { unit: 'degrees', min: 0, max: 90 }) * degree;
  const aspect = requireInRange('aspectDeg', ground.aspectDeg, { unit: 'degrees', min: 0, max: 360 });
  let sum = 0;
  for (let i = 0; i < AZIMUTHS; i += 1) {
    const azimuthDeg = (i * 360) / AZIMUTHS;
    const towards = Math.cos((azimuthDeg - aspect) * degree);
    const own = Math.atan2(-towards * Math.sin(S), Math.cos(S));
    const H = Math.max(0, own, horizonAltitudeDeg(profile, azimuthDeg) * degree);
    const Z = Math.PI / 2 - Math.min(Math.PI / 2, H);
    sum += Math.cos(S) * Math.sin(Z) ** 2 + Math.sin(S) * towards * (Z - Math.sin(Z) * Math.cos(Z));
  }
  return Math.min(1, Math.max(0, sum / AZIMUTHS));
}
