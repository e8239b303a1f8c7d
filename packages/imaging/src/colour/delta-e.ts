/** How far apart two colours look. */
import type { Lab } from './lab.ts';

/** Distance in CIELAB, the formula of 1976: about 2.3 is just seen. @source CIE 15:2004, 8.2.1.3 */
export function deltaE1976(one: Lab, other: Lab): number {
  return Math.hypot(one[0] - other[0], one[1] - other[1], one[2] - other[2]);
}

const deg = Math.PI / 180;
const power7 = 25 ** 7;

/**
 * CIEDE2000 with all weights 1: about 1 is just seen side by side.
 *
 * Made for colours less than about 5 apart; larger differences rank rightly but are no measure.
 *
 * @source CIE 142-2001; Sharma, Wu and Dalal 2005, Color Research and Application 30, 21, equations 2 to 22, with
 * their conventions for hue
 */
export function deltaE2000(one: Lab, other: Lab): number {
  const [L1, a1, b1] = one;
  const [L2, a2, b2] = other;
  const Cab = (Math.hypot(a1, b1) + Math.hypot(a2, b2)) / 2;
  const G = 0.5 * (1 - Math.sqrt(Cab ** 7 / (Cab ** 7 + power7)));
  const ap1 = (1 + G) * a1;
  const ap2 = (1 + G) * a2;
  const Cp1 = Math.hypot(ap1, b1);
  const Cp2 = Math.hypot(ap2, b2);
  const hue = (a: number, b: number) => {
    if (a === 0 && b === 0) return 0;
    const h = Math.atan2(b, a) / deg;
    return h < 0 ? h + 360 : h;
  };
  const hp1 = hue(ap1, b1);
  const hp2 = hue(ap2, b2);
  const grey = Cp1 * Cp2 === 0;

  const dLp = L2 - L1;
  const dCp = Cp2 - Cp1;
  const apart = hp2 - hp1;
  const dhp = grey ? 0 : apart > 180 ? apart - 360 : apart < -180 ? apart + 360 : apart;
  const dHp = 2 * Math.sqrt(Cp1 * Cp2) * Math.sin((dhp / 2) * deg);

  const Lp = (L1 + L2) / 2;
  const Cp = (Cp1 + Cp2) / 2;
  const sum = hp1 + hp2;
  const hp = grey ? sum : Math.abs(apart) <= 180 ? sum / 2 : sum < 360 ? (sum + 360) / 2 : (sum - 360) / 2;
  const T =
    1 -
    0.17 * Math.cos((hp - 30) * deg) +
    0.24 * Math.cos(2 * hp * deg) +
    0.32 * Math.cos((3 * hp + 6) * deg) -
    0.2 * Math.cos((4 * hp - 63) * deg);
  const dTheta = 30 * Math.exp(-(((hp - 275) / 25) ** 2));
  const RC = 2 * Math.sqrt(Cp ** 7 / (Cp ** 7 + power7));
  const SL = 1 + (0.015 * (Lp - 50) ** 2) / Math.sqrt(20 + (Lp - 50) ** 2);
  const SC = 1 + 0.045 * Cp;
  const SH = 1 + 0.015 * Cp * T;
  const RT = -Math.sin(2 * dTheta * deg) * RC;
  return Math.sqrt((dLp / SL) ** 2 + (dCp / SC) ** 2 + (dHp / SH) ** 2 + RT * (dCp / SC) * (dHp / SH));
}
