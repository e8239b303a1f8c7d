/** After choosing: decisions written where other programs read them, and the outs moved beside. Looked at first. */
import { useSignal } from '@preact/signals';
import type { EngineClient, FramesAnswer, MovedOuts, RatingPlan } from '@tepal/formats';
import { counted } from '../words/amounts.ts';

interface Seen {
  readonly engine: EngineClient;
  readonly answer: FramesAnswer;
}

export function AfterChoosing({ engine, answer }: Seen) {
  const decided = answer.frames.filter(({ decision }) => decision !== null).length;
  const outs = answer.frames.filter(({ decision }) => decision === 'out').length;
  if (decided === 0) return null;
  return (
    <section class="after-choosing" aria-labelledby="after-choosing">
      <h2 id="after-choosing">After choosing</h2>
      <WriteRatings engine={engine} />
      <MoveOuts engine={engine} outs={outs} />
    </section>
  );
}

function WriteRatings({ engine }: Pick<Seen, 'engine'>) {
  const plan = useSignal<RatingPlan | null>(null);
  const done = useSignal<RatingPlan | null>(null);
  const others = useSignal(false);
  const fault = useSignal<string | null>(null);
  const look = async () => {
    const answer = await engine.ratingPlan();
    done.value = null;
    fault.value = answer.ok ? null : answer.fault.message;
    plan.value = answer.ok ? answer.value : null;
  };
  const write = async () => {
    if (plan.value === null) return;
    const { ratings } = plan.value;
    const answer = await engine.writeRatings({ changeOthers: others.value, ratings });
    fault.value = answer.ok ? null : answer.fault.message;
    if (!answer.ok) return;
    done.value = answer.value;
    plan.value = null;
  };
  return (
    <div class="after">
      <p>
        Other programs read your decisions from a small file beside each picture. The pictures themselves are
        not touched.
      </p>
      {plan.value === null && (
        <button onClick={() => void look()}>See what would be written beside the pictures</button>
      )}
      {plan.value !== null && <Plan plan={plan.value} others={others} write={write} />}
      {done.value !== null && <Written plan={done.value} />}
      {fault.value !== null && (
        <p class="told" role="alert">
          {fault.value}
        </p>
      )}
    </div>
  );
}

function Plan(seen: { plan: RatingPlan; others: { value: boolean }; write: () => Promise<void> }) {
  const { plan, others, write } = seen;
  const of = (kind: RatingPlan['rows'][number]['step']['kind']) =>
    plan.rows.filter(({ step, fault }) => step.kind === kind && fault === null);
  const [fresh, gone, foreign] = [of('write'), of('remove'), of('otherRating')];
  const { keep, maybe, out } = plan.ratings;
  return (
    <>
      <p>
        Keep becomes the rating {signed(keep)}, maybe {signed(maybe)}, out {signed(out)}; −1 means rejected.{' '}
        {counted(fresh.length, 'picture')} would get a rating
        {gone.length > 0 && `, ${gone.length} would lose the one written here before`}.
      </p>
      {foreign.length > 0 && (
        <>
          <p>
            {counted(foreign.length, 'picture')} already {foreign.length === 1 ? 'bears' : 'bear'} a rating
            that was not written here; {foreign.length === 1 ? 'it stays' : 'they stay'} unless you say so:
          </p>
          <ul class="small">
            {foreign.slice(0, 12).map(({ file, step }) => (
              <li key={file}>
                {file}:{' '}
                {step.kind === 'otherRating' && `${step.there} there, ${step.wanted} by your decision`}
              </li>
            ))}
            {foreign.length > 12 && <li>and {foreign.length - 12} more</li>}
          </ul>
          <label class="tick">
            <input
              type="checkbox"
              checked={others.value}
              onChange={(event) => (others.value = event.currentTarget.checked)}
            />{' '}
            Change these too
          </label>
        </>
      )}
      <div class="buttons">
        <button
          class="first"
          disabled={fresh.length + gone.length + (others.value ? foreign.length : 0) === 0}
          onClick={() => void write()}
        >
          Write them
        </button>
      </div>
    </>
  );
}

const signed = (rating: number) => String(rating).replace('-', '−');

function Written({ plan }: { plan: RatingPlan }) {
  const written = plan.rows.filter((row) => row.written).length;
  const faults = plan.rows.filter(({ fault }) => fault !== null);
  return (
    <div role="status">
      <p>{written === 0 ? 'Nothing had to be written.' : `${counted(written, 'rating')} written.`}</p>
      {faults.length > 0 && (
        <ul class="small">
          {faults.map(({ file, fault }) => (
            <li key={file}>
              {file}: {fault}
            </li>
          ))}
        </ul>
      )}
    </div>
  );
}

function MoveOuts({ engine, outs }: { engine: EngineClient; outs: number }) {
  const moved = useSignal<{ away: boolean; what: MovedOuts } | null>(null);
  const fault = useSignal<string | null>(null);
  const move = async (away: boolean) => {
    const answer = await engine.moveOuts(away);
    fault.value = answer.ok ? null : answer.fault.message;
    if (answer.ok) moved.value = { away, what: answer.value };
  };
  return (
    <div class="after">
      <p>
        The outs can wait in a folder beside this one, each with the raw file and sidecars of the same
        picture. Nothing is deleted.
      </p>
      <div class="buttons">
        <button disabled={outs === 0} onClick={() => void move(true)}>
          Move the {counted(outs, 'out')} beside
        </button>
        <button class="quiet" onClick={() => void move(false)}>
          Bring back what was moved
        </button>
      </div>
      {moved.value !== null && <Moved away={moved.value.away} what={moved.value.what} />}
      {fault.value !== null && (
        <p class="told" role="alert">
          {fault.value}
        </p>
      )}
    </div>
  );
}

function Moved({ away, what }: { away: boolean; what: MovedOuts }) {
  const pictures = counted(what.moved.length, 'picture');
  return (
    <div role="status">
      <p>{away ? `${pictures} moved to ${what.beside}.` : `${pictures} brought back.`}</p>
      {what.failed.length > 0 && (
        <ul class="small">
          {what.failed.map(({ file, reason }) => (
            <li key={file}>
              {file} stays where it is: {reason}.
            </li>
          ))}
        </ul>
      )}
    </div>
  );
}
