/** The pocket card: what to set with this kit at three magnifications in three airs, on one printed page. */
import { useComputed, useSignal } from '@preact/signals';
import { pocketCard } from '@tepal/advice';
import type { CardDocument } from '@tepal/formats';
import { apertureWords, lengthWords, oneDecimal, ratioWords } from '../../words/amounts.ts';
import { Along } from '../controls/stepper.tsx';
import type { SetUpInputs } from '../question/inputs.ts';
import { openRequest } from '../question/request.ts';
import { steps } from '../question/steps.ts';

export function PocketCard({ inputs }: { inputs: SetUpInputs }) {
  const shown = useSignal(false);
  return (
    <details class="folded tool card-tool" onToggle={(event) => (shown.value = event.currentTarget.open)}>
      <summary>Pocket card for this kit</summary>
      {shown.value && <Card inputs={inputs} />}
    </details>
  );
}

function Card({ inputs }: { inputs: SetUpInputs }) {
  const ev100 = useSignal(12);
  const asked = useSignal(inputs);
  asked.value = inputs;
  const card = useComputed(() => {
    const {
      sensor,
      pixels,
      lens,
      support,
      stabilisation,
      stem,
      delivery,
      frames,
      isoCeiling,
      slowestShutterS,
    } = openRequest(asked.value);
    return pocketCard({
      sensor,
      pixels,
      lens,
      ev100: ev100.value,
      ...(support === undefined ? {} : { support }),
      ...(stabilisation === undefined ? {} : { stabilisation }),
      ...(stem === undefined ? {} : { stem }),
      ...(delivery === undefined ? {} : { delivery }),
      ...(frames === undefined ? {} : { frames }),
      ...(isoCeiling === undefined ? {} : { isoCeiling }),
      ...(slowestShutterS === undefined ? {} : { slowestShutterS }),
    });
  }).value;
  return (
    <>
      <div class="steppers card-light">
        <Along
          name="light of the card"
          hint="light of the card"
          value={ev100.value}
          list={steps.ev100}
          words={(ev) => `EV ${oneDecimal(ev)}`}
          onSet={(ev) => (ev100.value = ev)}
        />
        <button onClick={() => window.print()}>Print it</button>
      </div>
      <CardTable card={card} inputs={inputs} />
    </>
  );
}

function CardTable({ card, inputs }: { card: CardDocument; inputs: SetUpInputs }) {
  const { kit } = inputs;
  const { widthMm, heightMm, viewingDistanceMm } = card.delivery;
  return (
    <div class="pocket-card">
      <p class="card-head">
        {kit.focalLengthMm} mm on {kit.sensorWidthMm} × {kit.sensorHeightMm} mm, {card.support}, EV{' '}
        {oneDecimal(card.ev100)}
      </p>
      <table>
        <thead>
          <tr>
            <th scope="col">size</th>
            <th scope="col">air</th>
            <th scope="col">aperture</th>
            <th scope="col">shutter</th>
            <th scope="col">ISO</th>
            <th scope="col">frames</th>
          </tr>
        </thead>
        <tbody>
          {card.rows.map((row) => (
            <tr key={`${row.magnification} ${row.air}`} class={row.air}>
              <th scope="row">
                <span class={row.air === 'still' ? undefined : 'unseen'}>
                  {ratioWords(row.magnification)}
                </span>
                {row.air === 'stirring' && <span class="faint">{lengthWords(row.subjectDepthMm)} deep</span>}
              </th>
              <td>{row.air}</td>
              <td>{apertureWords(row.fNumber)}</td>
              <td>{row.shutter}</td>
              <td>{row.iso}</td>
              <td>{row.framesFor95 ?? 'none sure'}</td>
            </tr>
          ))}
        </tbody>
      </table>
      {card.rules.map((rule) => (
        <p key={rule} class="small">
          {rule}
        </p>
      ))}
      <p class="small faint">
        For {widthMm} × {heightMm} mm seen from {lengthWords(viewingDistanceMm)}; ISO {card.cleanIso} is
        clean, {card.ceilingIso} the most; {card.basis === 'yours' ? 'your own hands' : 'typical hands'}.
      </p>
    </div>
  );
}
