/** What stands behind each number: in words, the equation by its name, its source, and the numbers that went in. */
import type { ExposeDocument } from '@tepal/formats';
import { digits, percent, ratioWords, shutterWords } from '../words/amounts.ts';
import type { SetUpInputs } from './inputs.ts';

export type Explained = 'aperture' | 'shutter' | 'iso' | 'frames' | 'blur' | 'depth';

export interface Explanation {
  readonly title: string;
  readonly words: readonly string[];
  readonly equations: readonly { readonly name: string; readonly form: string; readonly source: string }[];
  readonly numbers: readonly (readonly [string, string])[];
}

const blurSource = 'blur budget: variances of independent causes add';

/**
 * @param what the number that is opened
 * @param advice the document whose number it is
 * @param inputs what went in
 */
export function explanationOf(what: Explained, advice: ExposeDocument, inputs: SetUpInputs): Explanation {
  const { optics, budget, odds, noise, recommended, reasons } = advice;
  const um = (value: number) => `${digits(value)} µm`;
  const depth = optics.depthOfFieldMm === null ? 'to the horizon' : `${digits(optics.depthOfFieldMm)} mm`;
  const about = (...parts: readonly RegExp[]) =>
    reasons.filter((one) => parts.some((part) => part.test(one)));
  const magnification = ['magnification', ratioWords(inputs.magnification)] as const;
  const all: Readonly<Record<Explained, Explanation>> = {
    aperture: {
      title: 'Why this aperture',
      words: about(/depth of field|One frame cannot|near limit/),
      equations: [
        {
          name: 'effective f-number',
          form: 'Ne = N (1 + m / p)',
          source: 'Greivenkamp 2004, working f-number',
        },
        {
          name: 'depth of field',
          form: 'exact close-range limits, disc c = 4 σ',
          source: 'van Walree; ray-traced there',
        },
        { name: 'diffraction', form: 'σ = 0.464 λ Ne', source: 'Gaussian of the Airy pattern’s MTF50' },
      ],
      numbers: [
        magnification,
        ['effective f-number', digits(optics.effectiveFNumber, 3)],
        ['depth of field', depth],
        ['depth of the subject', `${inputs.subjectDepthMm} mm`],
        ['diffraction', um(budget.diffractionUm)],
        ['background disc', `${percent(advice.background.shareOfFrameWidth)} of the frame’s width`],
      ],
    },
    shutter: {
      title: 'Why this shutter',
      words: about(/largest causes/, /lull/),
      equations: [
        {
          name: 'sway of the stem in the wind',
          form: 'damped oscillator, drag with reconfiguration',
          source: 'de Langre 2008, Annu. Rev. Fluid Mech. 40, 141',
        },
        {
          name: 'motion within the exposure',
          form: 'mean variance of displacement over t',
          source: 'from its autocorrelation',
        },
        {
          name: 'hands',
          form: 'rotation and translation by support',
          source: 'ISO 20954-1:2019; ratios assumed',
        },
      ],
      numbers: [
        [
          'time',
          `${shutterWords(recommended.exposureTimeNominalS)} (exactly ${digits(recommended.exposureTimeS * 1000, 3)} ms)`,
        ],
        ['wind at the plant', `${digits(inputs.windMs)} m/s`],
        ['plant moves', um(budget.subjectMotionUm)],
        ['hands move', um(budget.cameraMotionUm)],
        ['still frames', percent(odds.still)],
      ],
    },
    iso: {
      title: 'Why this ISO',
      words: about(/ISO|stops of light|meter read/),
      equations: [
        {
          name: 'exposure',
          form: 'N² / t = 2^EV · S / 100, with the close-up loss',
          source: 'ISO 2720:1974',
        },
        { name: 'clean enough', form: 'signal to noise against the delivery size', source: 'ISO 12232:2006' },
      ],
      numbers: [
        ['light', `EV ${digits(inputs.ev100, 3)} at ISO 100`],
        ['lost by focusing close', `${digits(optics.lightLossStops)} stops`],
        ['signal to noise, midtones', digits(noise.midtoneSnr)],
        ['signal to noise, shadows', digits(noise.shadowSnr)],
      ],
    },
    frames: {
      title: 'Why so many',
      words: about(/will be sharp|No count/, /lull/),
      equations: [
        { name: 'frames for one', form: 'smallest n with 1 − (1 − p)ⁿ ≥ 0.95', source: 'independent frames' },
        {
          name: 'odds of one',
          form: 'P(placement, plant and hands within the limit)',
          source: 'a sum of squared normals',
        },
      ],
      numbers: [
        [
          'sharp, of one frame',
          `${percent(odds.sharp)} (${percent(odds.sharpRange[0])} to ${percent(odds.sharpRange[1])})`,
        ],
        ['in focus', percent(odds.inFocus)],
        ['still', percent(odds.still)],
        [
          'whose hands',
          odds.basis === 'yours' ? 'yours, from your frames' : 'typical; yours are not measured yet',
        ],
        ...(odds.waitForLullS === null
          ? []
          : [['wait for a lull', `about ${digits(odds.waitForLullS)} s`] as const]),
      ],
    },
    blur: {
      title: 'What adds up to it',
      words: about(/largest causes/),
      equations: [
        { name: 'total', form: 'σ² = Σ σᵢ²', source: blurSource },
        {
          name: 'limit',
          form: 'max(0.69 d tan 1′ / enlargement, one pixel)',
          source: '0.2 mm disc at 25 cm, as a sigma',
        },
      ],
      numbers: [
        ['lens (diffraction)', um(budget.diffractionUm)],
        ['depth (defocus at the edge)', um(budget.defocusUm)],
        ['plant', um(budget.subjectMotionUm)],
        ['hands', um(budget.cameraMotionUm)],
        ['pixel', um(budget.pixelUm)],
        ['total at the edge', um(budget.totalUm)],
        ['total at the point', um(budget.totalAtPointUm)],
        ['limit, 420 × 280 mm from 300 mm', um(budget.limitUm)],
      ],
    },
    depth: {
      title: 'What is sharp of it',
      words: about(/depth of field|One frame cannot/),
      equations: [{ name: 'depth of field', form: 'exact close-range limits', source: 'van Walree' }],
      numbers: [magnification, ['depth of field', depth]],
    },
  };
  return all[what];
}
