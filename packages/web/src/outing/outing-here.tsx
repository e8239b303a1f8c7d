/** The outing under way: begun by one tap with a reminder of care, set-ups logged by one tap, notes typed or spoken. */
import { useSignal } from '@preact/signals';
import type { StoreName } from '@tepal/formats';
import type { Outing, Pen } from '@tepal/notebook';
import { notebookOf, writeNotebook } from '../field/notebook.ts';
import type { HourHere } from '../set-up/hour-here.ts';
import type { SetUpInputs } from '../set-up/question/inputs.ts';
import { clockWords, readersOffsetMin } from '../words/clock.ts';
import { careFor, strictnessAt } from './care.ts';
import { beginningOuting, currentOuting, instantHere, notedAt } from './current-outing.ts';
import { FoundHere } from './found-here.tsx';
import { LoggedSetUps } from './logged-set-ups.tsx';
import { positionHere } from './position-here.ts';
import { SpokenNotes } from './spoken-notes.tsx';
import { SubjectHere } from './subject-here.tsx';

interface OutingProps {
  readonly store: StoreName;
  readonly inputs: SetUpInputs;
  readonly here: HourHere | null;
  readonly onChange: (change: Partial<SetUpInputs>) => void;
}

/** A site farther away than this is not the one that one stands at [m]. */
const atSiteM = 3000;
/** Longest wait for a position [ms]. */
const waitMs = 8000;

export function OutingHere({ store, inputs, here, onChange }: OutingProps) {
  const fault = useSignal<string | null>(null);
  const busy = useSignal(false);
  const open = notebookOf(store).value;
  const outing = open === null ? null : currentOuting(open, Date.now());

  const write = async (message: string, pen: (pen: Pen) => void) => {
    fault.value = await writeNotebook(store, message, pen);
  };
  const begin = async () => {
    busy.value = true;
    const nowMs = Date.now();
    const at = await positionHere(waitMs);
    const now = notebookOf(store).value;
    const sites = now === null ? [] : now.room.list(now.notebook, 'site');
    const near = at === null || now === null ? null : now.room.nearestSite(sites, at);
    // Without a position the hour's site stands in; a tap changes it.
    const siteId = near === null ? (here?.siteId ?? null) : near.distanceM <= atSiteM ? near.site.id : null;
    const begun = beginningOuting(crypto.randomUUID(), nowMs, siteId, here?.forecast ?? null);
    await write('outing begun', (pen) => pen.put('outing', begun));
    busy.value = false;
  };
  const patch = (by: Partial<Outing>, message = 'outing noted') => {
    if (outing !== null) void write(message, (pen) => pen.patch('outing', outing.id, by));
  };

  if (store === 'invented') {
    return (
      <section aria-labelledby="outing">
        <h2 id="outing">Out there</h2>
        <p>The invented outing is only to be looked at. In your own pages one tap here begins an outing.</p>
      </section>
    );
  }
  const sites = open === null ? [] : open.room.list(open.notebook, 'site');
  const site = sites.find(({ id }) => id === outing?.siteId) ?? null;
  return (
    <section aria-labelledby="outing" class="outing">
      <h2 id="outing">
        {outing === null
          ? 'Out there'
          : `Out ${site === null ? 'since' : `at ${site.name} since`} ${startWords(outing)}`}
      </h2>
      {outing === null ? (
        <>
          <div class="buttons">
            <button class="first" disabled={busy.value} onClick={() => void begin()}>
              {busy.value ? 'Looking where this is' : 'Begin an outing here'}
            </button>
          </div>
          <p class="hint">Finds the nearest of your places; no network is needed.</p>
        </>
      ) : (
        <>
          {open !== null && (
            <CareHere
              key={outing.id}
              outing={outing}
              strictness={strictnessAt(open, outing.siteId)}
              cautions={site?.cautions ?? []}
            />
          )}
          <SubjectHere store={store} inputs={inputs} onChange={onChange} />
          <NoteForm onNote={(line) => patch({ notes: notedAt(outing.notes, line, Date.now()) })} />
          <SpokenNotes outingId={outing.id} />
          <details class="folded">
            <summary>As found: wind, light, drops</summary>
            <FoundHere outing={outing} onWrite={patch} />
          </details>
          <LoggedSetUps store={store} outing={outing} />
          <details class="folded">
            <summary>{site === null ? 'At no kept place' : `At ${site.name}`}, or elsewhere</summary>
            <div class="choice-row">
              {sites.map((one) => (
                <button
                  key={one.id}
                  aria-pressed={one.id === outing.siteId}
                  onClick={() => patch({ siteId: one.id })}
                >
                  {one.name}
                </button>
              ))}
              <button aria-pressed={outing.siteId === null} onClick={() => patch({ siteId: null })}>
                at no kept place
              </button>
            </div>
          </details>
          <div class="buttons">
            <button onClick={() => patch({ endedAt: instantHere(Date.now()) }, 'outing ended')}>
              End the outing
            </button>
          </div>
        </>
      )}
      {fault.value !== null && (
        <p class="told" role="alert">
          {fault.value}
        </p>
      )}
    </section>
  );
}

/** Shown when an outing has begun, until it was read. */
function CareHere(props: {
  outing: Outing;
  strictness: Parameters<typeof careFor>[0];
  cautions: readonly string[];
}) {
  const unread = useSignal(Date.now() - Date.parse(props.outing.startedAt) < 15 * 60_000);
  const { forPlants, forYou } = careFor(props.strictness);
  if (!unread.value) {
    return (
      <button class="quiet" onClick={() => (unread.value = true)}>
        care
      </button>
    );
  }
  return (
    <div class="care" role="region" aria-label="Before you lie down">
      <h3>Before you lie down</h3>
      {[...props.cautions, ...forPlants, ...forYou].map((sentence) => (
        <p key={sentence}>{sentence}</p>
      ))}
      <p class="faint">The site’s own rules and the law of the place come first.</p>
      <button onClick={() => (unread.value = false)}>Read</button>
    </div>
  );
}

function NoteForm({ onNote }: { onNote: (line: string) => void }) {
  const text = useSignal('');
  const back = useSignal(false);
  return (
    <form
      class="note"
      onSubmit={(event) => {
        event.preventDefault();
        if (text.value.trim() === '') return;
        onNote(back.value ? `Come back: ${text.value}` : text.value);
        text.value = '';
        back.value = false;
      }}
    >
      <label for="note" class="hint">
        Note
      </label>
      <textarea
        id="note"
        rows={2}
        value={text.value}
        onInput={(event) => (text.value = event.currentTarget.value)}
      />
      <div class="choices">
        <label>
          <input type="checkbox" checked={back.value} onChange={() => (back.value = !back.value)} />a reason
          to come back
        </label>
        <button>Keep the note</button>
      </div>
    </form>
  );
}

function startWords({ startedAt }: Outing): string {
  const startedMs = Date.parse(startedAt);
  return clockWords(startedMs, readersOffsetMin(startedMs));
}
