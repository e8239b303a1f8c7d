/** Behind the light and the ISO. */
import type { Explanation } from '@tepal/formats';
import { SHADOW_STOPS, type Scene } from '../../rule/scene.ts';
import { exposureErrorStops, type Setting } from '../../rule/settings.ts';
import { q, step, word, type Explainable } from './quantity.ts';

/** From the reading to the ISO, and how clean it is. */
export function lightSteps(
  scene: Scene,
  setting: Setting,
  { optics, noise, recommended }: Explainable,
): Explanation[] {
  const { request } = scene;
  const loss = request.lossToAdd
    ? q('light lost by focusing close, added', optics.lightLossStops, 'stops')
    : word('light lost by focusing close', 'in the reading already');
  return [
    step(
      'light',
      'Light lost by focusing close',
      '2 log2(1 + m / P)',
      'Langford, Basic Photography; Kodak Professional Photoguide 1975',
      [q('magnification m', request.magnification), q('pupil magnification P', request.pupilMagnification)],
      q('light lost', optics.lightLossStops, 'stops'),
    ),
    step(
      'iso',
      'Meter equation',
      'N^2 / t = 2^EV S / 100',
      'ISO 2720:1974',
      [
        q('light EV at ISO 100', request.ev100),
        loss,
        q('f-number N', setting.f.marked),
        q('time t', recommended.exposureTimeS, 's'),
        q('rounding to the dials', exposureErrorStops(scene, setting), 'stops'),
      ],
      q('ISO S', recommended.iso),
    ),
    step(
      'iso',
      'Signal to noise of the midtones',
      'e / sqrt(e + r^2), e = 8.125/S x photons x area x quantum efficiency',
      'EMVA Standard 1288; ISO 12232 focal-plane exposure',
      [
        q('pixel pitch', scene.pixelUm, 'µm'),
        q('quantum efficiency, assumed', scene.sensor.quantumEfficiency),
        q('read noise r, assumed', scene.sensor.readNoiseElectrons, 'electrons'),
      ],
      q('signal to noise', noise.midtoneSnr),
    ),
    step(
      'iso',
      'Noise that the delivery bears',
      '40 (excellent) and 10 (acceptable) at 70 pixels/cm from 25 cm, scaled by density',
      'ISO 12232:2019, note 3; clean: shadows three stops down are excellent, ceiling: midtones are',
      [
        q('wanted of the midtones', scene.wantedSnr.midtone),
        q('stops to the shadows', SHADOW_STOPS, 'stops'),
        q('clean up to ISO', noise.cleanIso ?? 0),
        q('ceiling ISO', noise.ceilingIso ?? 0),
      ],
      q('share of pictures in which it is borne', noise.borneShare ?? 0),
    ),
  ];
}
