/** What each stop would do to the background and to the depth that is sharp. */
import { exposureAdvice } from '@tepal/advice';
import { useComputed, useSignal } from '@preact/signals';
import { apertureWords, oneDecimal, percent } from '../../words/amounts.ts';
import type { SetUpInputs } from '../question/inputs.ts';
import { openRequest } from '../question/request.ts';
import { dials } from '../question/steps.ts';

export function BackgroundStops({ inputs }: { inputs: SetUpInputs }) {
  const asked = useSignal(inputs);
  asked.value = inputs;
  const rows = useComputed(() => stopsOf(asked.value)).value;
  return (
    <table class="stops">
      <caption>What each stop does</caption>
      <thead>
        <tr>
          <th scope="col">aperture</th>
          <th scope="col">sharp depth</th>
          <th scope="col">a point behind spreads over</th>
        </tr>
      </thead>
      <tbody>
        {rows.map(({ fNumber, depthOfFieldMm, share }) => (
          <tr key={fNumber}>
            <th scope="row">{apertureWords(fNumber)}</th>
            <td>{depthOfFieldMm === null ? 'to the horizon' : `${oneDecimal(depthOfFieldMm)} mm`}</td>
            <td>{percent(share)} of the frame</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

/** The whole stops that the lens has. */
function stopsOf(inputs: SetUpInputs) {
  const { minFNumber, maxFNumber } = inputs.kit;
  const inLens = dials.fNumbers.filter((f) => f >= minFNumber - 0.01 && f <= maxFNumber + 0.01);
  return inLens
    .filter((_, index) => index % 3 === 0)
    .flatMap((fNumber) => {
      try {
        const { optics, background } = exposureAdvice({ ...openRequest(inputs), fix: { fNumber } });
        return [{ fNumber, depthOfFieldMm: optics.depthOfFieldMm, share: background.shareOfFrameWidth }];
      } catch {
        // An aperture that this light cannot meet has no row.
        return [];
      }
    });
}
