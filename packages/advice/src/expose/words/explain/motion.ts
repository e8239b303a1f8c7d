/** Behind the shutter and the wind: plant, hands, lulls, the end of a swing. */
import type { Explanation, Quantity } from '@tepal/formats';
import { oscillatorOfStem, STEMS, swayOfSpectrum, swaySpectrum } from '@tepal/science';
import { windAtPlantMs, type Scene } from '../../rule/scene.ts';
import type { Setting } from '../../rule/settings.ts';
import { q, step, word, type Explainable } from './quantity.ts';

/** What moves within the exposure. */
export function motionSteps(
  scene: Scene,
  setting: Setting,
  { budget, lull, timing }: Explainable,
): Explanation[] {
  const { request, camera } = scene;
  const t = q('time t', setting.t.exact, 's');
  const steps = [...plantSteps(scene, t, budget.subjectMotionUm)];
  steps.push(
    step(
      'shutter',
      'Hands',
      'image speed = omega [f (1 + m/P) + m r] and m v, variance within t for each band',
      'anchor 0.063 rad/s: ISO 20954-1:2019; tremor 4 Hz: Jpn. J. Ergonomics 31(6) 1995; ratios of supports assumed',
      [
        word('support', request.hands === undefined ? request.support : 'your own figures'),
        q('rotation omega', camera.rotationRadS, 'rad/s'),
        q('translation v', camera.translationMmS, 'mm/s'),
        q('stabilisation', request.stabilisation, 'stops'),
        t,
      ],
      q('camera moves', budget.cameraMotionUm, 'µm'),
    ),
  );
  if (lull) {
    steps.push(
      step(
        'wind',
        'Lulls',
        'rate = nu0 exp(-z^2/2), wait = (1 - P)^2 / rate, P from a Weibull wind',
        'Rice 1944 and 1945, Bell Syst. Tech. J. 23 and 24; nu0 = 0.2 Hz from memory',
        [
          q('wind at the plant', windAtPlantMs(request) ?? 0, 'm/s'),
          q('still enough below', lull.belowMs, 'm/s'),
          q('mean length', lull.meanLengthS, 's'),
        ],
        q('wait', lull.expectedWaitS, 's'),
      ),
    );
  }
  if (timing) {
    steps.push(
      step(
        'wind',
        'Quiet moment at the end of a swing',
        'variance = (m a)^2 [cos^2(w tau) even + sin^2(w tau) odd]',
        'sinusoid about its turn; release error of 0.05 s assumed',
        [q('quiet for', timing.quietMomentS, 's'), q('bears a longer time by', timing.longerStops, 'stops')],
        q('sharp when timed', timing.sharp),
      ),
    );
  }
  return steps;
}

function plantSteps(scene: Scene, t: Quantity, resultUm: number): Explanation[] {
  const { request, subject } = scene;
  const moves = q('plant moves', resultUm, 'µm');
  if (request.sway !== undefined) {
    const { amplitudeMm, frequencyHz } = request.sway;
    return [
      step(
        'shutter',
        'Watched sway',
        'mean variance = (m a)^2 / 2 x (1 - sinc^2(F t))',
        'sinusoid at a random phase',
        [q('amplitude a', amplitudeMm, 'mm'), q('frequency F', frequencyHz, 'Hz'), t],
        moves,
      ),
    ];
  }
  const windMs = windAtPlantMs(request);
  if (windMs === undefined || subject.kind !== 'sway') return [];
  const stem = STEMS[request.stem];
  const oscillator = oscillatorOfStem(stem);
  const sway = swayOfSpectrum(stem, swaySpectrum(stem, windMs));
  return [
    step(
      'wind',
      'Stem as an oscillator',
      'k = 3 E I / L^3, f0 = sqrt(k / me) / (2 pi)',
      'Rayleigh’s method; stem classes assumed',
      [
        word('stem', request.stem),
        q('stiffness k', oscillator.stiffnessNM, 'N/m'),
        q('mass me', 1000 * oscillator.effectiveMassKg, 'g'),
      ],
      q('own frequency f0', oscillator.naturalFrequencyHz, 'Hz'),
    ),
    step(
      'wind',
      'Sway in the wind',
      'S_x = S_F/k^2 / {[1 - (f/f0)^2]^2 + (2 zeta f/f0)^2}, von Karman wind',
      'de Langre 2008, Annu. Rev. Fluid Mech. 40, 141',
      [
        q('wind at the plant', windMs, 'm/s'),
        q('damping zeta', sway.damping),
        q('speed, standard deviation', sway.speedMmS, 'mm/s'),
      ],
      q('displacement, standard deviation', subject.displacementMm, 'mm'),
    ),
    step(
      'shutter',
      'Sway within the exposure',
      'variance = sum of S(f) (1 - sinc^2(f t))',
      'from the autocorrelation of the motion (Wiener and Khinchin)',
      [q('displacement', subject.displacementMm, 'mm'), q('magnification m', request.magnification), t],
      moves,
    ),
  ];
}
