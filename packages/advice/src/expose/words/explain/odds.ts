/** Behind the blur and the number of frames. */
import type { Explanation } from '@tepal/formats';
import { enlargement } from '@tepal/science';
import type { Scene } from '../../rule/scene.ts';
import { q, step, word, type Explainable } from './quantity.ts';

/** What the blur adds up to. */
export function blurSteps(scene: Scene, { budget }: Explainable): Explanation[] {
  const { request, camera } = scene;
  const parts = [
    q('pixel', budget.pixelUm, 'µm'),
    q('diffraction', budget.diffractionUm, 'µm'),
    q('defocus at the edge', budget.defocusUm, 'µm'),
    q('plant', budget.subjectMotionUm, 'µm'),
    q('hands', budget.cameraMotionUm, 'µm'),
  ];
  const { widthMm, heightMm, viewingDistanceMm } = request.delivery;
  return [
    step(
      'blur',
      'Limit',
      'max(0.69 d tan 1′ / enlargement, one pixel)',
      'the 0.2 mm disc at 25 cm of old, as a sigma',
      [
        word('delivery', `${widthMm} x ${heightMm} mm`),
        q('seen from d', viewingDistanceMm, 'mm'),
        q('enlargement', enlargement(scene.frame, request.delivery)),
        q('pixel pitch', scene.pixelUm, 'µm'),
      ],
      q('limit', budget.limitUm, 'µm'),
    ),
    step(
      'blur',
      'Blur at the worst edge',
      'sigma^2 = sum of the causes’ sigma^2',
      'variances of independent causes add; diffraction by its Gaussian',
      parts,
      q('total at the edge', budget.totalUm, 'µm'),
    ),
    step(
      'blur',
      'Blur at the point of focus',
      'sigma^2 = pixel, diffraction, motion and placement',
      'placement: m^2 |z| / Ne, a disc’s sigma is a quarter of it',
      [
        ...parts.filter(({ name }) => !name.startsWith('defocus')),
        q('fore and aft, hands', camera.foreAndAftMm, 'mm'),
      ],
      q('total at the point', budget.totalAtPointUm, 'µm'),
    ),
  ];
}

/** From the odds of one frame to the frames to take. */
export function frameSteps({ odds }: Explainable): Explanation[] {
  const sharp = q('sharp, of one frame', odds.sharp);
  const hands = odds.basis === 'yours' ? 'yours' : 'typical hands';
  const burst = odds.burst;
  return [
    step(
      'frames',
      'Odds of one frame',
      'P(sum of squared normals <= limit^2 - fixed)',
      'Laplace transform inverted on Talbot’s contour, Abate and Valko 2004; checked by tracing rays',
      [
        q('in focus', odds.inFocus),
        q('still', odds.still),
        word('whose hands', hands),
        word('range', `${odds.sharpRange[0]} to ${odds.sharpRange[1]}`),
      ],
      sharp,
    ),
    step(
      'frames',
      'Frames for one',
      'smallest n with 1 - (1 - p)^n >= 0.95',
      'independent frames; null below p = 0.003',
      [sharp],
      odds.framesFor95 === null ? word('frames', 'none can be promised') : q('frames', odds.framesFor95),
    ),
    ...(burst === undefined
      ? []
      : [
          step(
            'frames',
            'Frames of a burst',
            'P(none) = (1 - p) (1 - p (1 - rho))^(n - 1)',
            'two-state Markov chain; rho = exp(-dt / memory of hands or plant)',
            [sharp, q('interval', burst.intervalS, 's'), q('correlation rho', burst.correlation)],
            burst.frames === null ? word('frames', 'none can be promised') : q('frames', burst.frames),
          ),
        ]),
  ];
}
