/** Behind the aperture, the depth and the background. */
import type { Explanation } from '@tepal/formats';
import { entrancePupilToFocusMm } from '@tepal/science';
import { chanceWanted, LULL_WIND_MS } from '../../rule/recommended.ts';
import { lensAt, type Scene } from '../../rule/scene.ts';
import type { Setting } from '../../rule/settings.ts';
import { q, step, word, type Explainable } from './quantity.ts';

/** The lens, and where on the ladder the setting stands. */
export function opticsSteps(
  scene: Scene,
  setting: Setting,
  { optics, background, budget }: Explainable,
): Explanation[] {
  const { request } = scene;
  const lens = lensAt(scene, setting.f.exact);
  const m = q('magnification m', request.magnification);
  const P = q('pupil magnification P', request.pupilMagnification);
  const Ne = q('effective f-number Ne', optics.effectiveFNumber);
  const f = q('focal length f', request.lens.focalLengthMm, 'mm');
  const N = q('marked f-number N', setting.f.marked);
  const disc = q('disc c = 4 x limit', (4 * scene.limitUm) / 1000, 'mm');
  const depth =
    optics.depthOfFieldMm === null
      ? word('depth of field', 'to the horizon')
      : q('depth of field', optics.depthOfFieldMm, 'mm');
  return [
    step(
      'aperture',
      'Effective f-number',
      'Ne = N (1 + m / P)',
      'Greivenkamp 2004, Field Guide to Geometrical Optics, working f-number',
      [N, m, P],
      Ne,
    ),
    step(
      'aperture',
      'Diffraction',
      'sigma = 0.464 lambda Ne',
      'Gaussian with the Airy pattern’s half modulation; Goodman, Introduction to Fourier Optics',
      [Ne, q('wavelength lambda', 0.55, 'µm')],
      q('diffraction', budget.diffractionUm, 'µm'),
    ),
    step(
      'aperture',
      'Ladder of settings',
      'from the deepest useful aperture at base ISO; ISO rises while it is clean, then two thirds of ISO for one of aperture',
      'our rule: the first rung that is certain, or with which the frames that one is willing to take give a sharp one with 95 % in a lull',
      [
        q('frames willing to take', request.frames),
        q('chance wanted of each', chanceWanted(request.frames)),
        q('wind of the lull', LULL_WIND_MS, 'm/s'),
      ],
      q('f-number', setting.f.marked),
    ),
    step(
      'depth',
      'Depth of field, exact at close range',
      'near, far = N c (1 + m/P) / [m^2 (1 ± N c / (f m))]',
      'van Walree, Derivation of the DOF equations; ray-traced in our tests',
      [N, disc, m, P, f],
      depth,
    ),
    step(
      'background',
      'Disc of a point behind',
      'b = (f m / N) x / (u_E + x)',
      'geometry of the entrance pupil; Merklinger 1992, The INs and OUTs of FOCUS',
      [
        f,
        m,
        N,
        q('background behind the plane of focus x', request.backgroundMm, 'mm'),
        q('entrance pupil to focus u_E', entrancePupilToFocusMm(lens), 'mm'),
      ],
      q('disc on the sensor', background.discMm, 'mm'),
    ),
  ];
}
