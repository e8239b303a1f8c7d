/** Records: what was seen, season by season; what leaves the house of it, and how exact the place in it is. */
import { useSignal } from '@preact/signals';
import type { RecordRow, StoreName } from '@tepal/formats';
import { useEffect } from 'preact/hooks';
import { addressOf } from '../app/address.ts';
import type { PageProps } from '../app/page-props.ts';
import { notebookOf, readNotebook } from '../field/notebook.ts';
import { Learned } from '../learn/learned.tsx';
import { Devices } from '../meeting/devices.tsx';
import { Keeping } from '../meeting/keeping.tsx';
import { counted } from '../words/amounts.ts';
import { dateWords } from '../words/clock.ts';
import { AskSensitivity } from './ask-sensitivity.tsx';
import { Changes } from './changes.tsx';
import { LeaveHouse } from './leave-house.tsx';
import { Names } from './names.tsx';
import { RecordForm } from './record-form.tsx';
import { bySeason, recordsSentence } from './seasons.ts';
import { TakeIn } from './take-in.tsx';

export function RecordsPage({ store, query }: PageProps) {
  const fault = useSignal<string | null>(null);
  useEffect(() => {
    void readNotebook(store).then((told) => (fault.value = told));
  }, [store]);
  const open = notebookOf(store).value;
  if (open === null) {
    if (fault.value === null) return <h1>Opening the records.</h1>;
    return (
      <>
        <h1>The records cannot be shown.</h1>
        <Told words={fault.value} />
      </>
    );
  }
  const rows = open.room.recordRows(open.notebook, (hash) => `sha256:${hash.replace(/^sha256:/, '')}`);
  const own = store === 'mine';
  return (
    <>
      <div class="answer">
        <h1>{recordsSentence(rows)}</h1>
        <p>
          A record leaves the house only when it is exported, and the place in it only as exactly as each line
          says.
        </p>
      </div>
      <Told words={fault.value} />
      {own && <AskSensitivity open={open} />}
      {bySeason(rows).map(({ season, records: those }) => (
        <section key={season} aria-label={season}>
          <div class="day-head">
            <h2>{season}</h2>
            <p class="faint small">{counted(those.length, 'record')}</p>
          </div>
          <ul class="list">
            {those.map((record) => (
              <Row key={record.id} record={record} store={store} />
            ))}
          </ul>
        </section>
      ))}
      {own && (
        <>
          <RecordForm about={query.get('about')} record={null} />
          <Names open={open} />
          <LeaveHouse open={open} />
          <TakeIn />
        </>
      )}
      <Learned store={store} />
      <Devices store={store} />
      {own && (
        <>
          <Keeping />
          <Changes open={open} />
        </>
      )}
    </>
  );
}

/** A sentence that must be read; nothing where there is none. */
function Told({ words }: { words: string | null }) {
  return words === null ? null : (
    <p class="told" role="alert">
      {words}
    </p>
  );
}

function Row({ record, store }: { record: RecordRow; store: StoreName }) {
  const { id, scientificName, commonName, eventDate, siteName, count, remarks, frameIds, leaves } = record;
  const editing = useSignal(false);
  const kept = notebookOf(store).value;
  const whole = kept === null ? null : kept.room.find(kept.notebook, 'record', id);
  return (
    <li class="record">
      <span class="record-date">{dateWords(eventDate)}</span>
      <span class="record-what">
        <em>{scientificName}</em>
        {commonName !== null && ` ${commonName}`}
        {count !== null && `, ${count}`}
        <span class="record-more faint">
          {[siteName, whole?.lifeStage, whole?.determiner && `named by ${whole.determiner}`, remarks]
            .filter(Boolean)
            .join('; ')}
          {frameIds.length > 0 && (
            <>
              {' '}
              <a href={addressOf(store, 'frames', { beside: frameIds.slice(0, 4).join(',') })}>
                {counted(frameIds.length, 'frame')}
              </a>
            </>
          )}
        </span>
      </span>
      <span class="record-leaves">
        <span class="faint">leaves the house: </span>
        {leaves}
        {store === 'mine' && (
          <button
            class="quiet"
            aria-expanded={editing.value}
            aria-label={`${editing.value ? 'Close' : 'Change'} the record of ${scientificName}`}
            onClick={() => (editing.value = !editing.value)}
          >
            {editing.value ? 'Close' : 'Change'}
          </button>
        )}
      </span>
      {editing.value && whole !== null && (
        <div class="record-edit">
          <RecordForm about={null} record={whole} onDone={() => (editing.value = false)} />
        </div>
      )}
    </li>
  );
}
