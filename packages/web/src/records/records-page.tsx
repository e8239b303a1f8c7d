/** Records: what was seen, season by season; what leaves the house of it, and how exact the place in it is. */
import { useSignal } from '@preact/signals';
import { enginePaths, type RecordRow, type RecordsAnswer, type StoreName } from '@tepal/formats';
import { useEffect } from 'preact/hooks';
import { addressOf } from '../app/address.ts';
import type { PageProps } from '../app/page-props.ts';
import { askedFrom, asking, engineOf, type Asked } from '../engine/engine.ts';
import { counted } from '../words/amounts.ts';
import { dateWords } from '../words/clock.ts';
import { Devices } from '../meeting/devices.tsx';
import { RecordForm } from './record-form.tsx';
import { bySeason, recordsSentence } from './seasons.ts';

export function RecordsPage({ store, query }: PageProps) {
  const records = useSignal<Asked<RecordsAnswer>>(asking);
  const ask = () =>
    engineOf(store)
      .records()
      .then((answer) => (records.value = askedFrom(answer)));
  useEffect(() => {
    void ask();
  }, [store]);

  const seen = records.value;
  if (seen.at === 'asking') return <h1>Opening the records.</h1>;
  const rows = seen.at === 'here' ? seen.value.records : [];
  return (
    <>
      <div class="answer">
        <h1>{seen.at === 'fault' ? 'The records cannot be shown.' : recordsSentence(rows)}</h1>
        <p>
          A record leaves the house only when it is exported, and the place in it only as exactly as each line
          says.
        </p>
      </div>
      {seen.at === 'fault' && (
        <p class="told" role="alert">
          {seen.message}
        </p>
      )}
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
      <Export store={store} count={rows.length} />
      <Devices store={store} />
      <RecordForm store={store} about={query.get('about')} onAdded={() => void ask()} />
    </>
  );
}

function Row({ record, store }: { record: RecordRow; store: StoreName }) {
  const { scientificName, commonName, eventDate, siteName, count, remarks, frameIds, leaves } = record;
  return (
    <li class="record">
      <span class="record-date">{dateWords(eventDate)}</span>
      <span class="record-what">
        <em>{scientificName}</em>
        {commonName !== null && ` ${commonName}`}
        {count !== null && `, ${count}`}
        <span class="record-more faint">
          {[siteName, remarks].filter(Boolean).join('; ')}
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
      </span>
    </li>
  );
}

/** A Darwin Core archive, fetched first so that a refusal is read here and not downloaded. */
function Export({ store, count }: { store: StoreName; count: number }) {
  const fault = useSignal<string | null>(null);
  const done = useSignal(false);
  const save = async () => {
    fault.value = null;
    done.value = false;
    try {
      const answer = await fetch(enginePaths.recordsArchive(store), { headers: { 'x-tepal': '1' } });
      if (!answer.ok) {
        const told: unknown = await answer.json().catch(() => null);
        const message: unknown =
          typeof told === 'object' && told !== null ? Reflect.get(told, 'message') : null;
        fault.value =
          typeof message === 'string' ? message : `The engine refused with status ${answer.status}.`;
        return;
      }
      const address = URL.createObjectURL(await answer.blob());
      const link = document.createElement('a');
      link.href = address;
      link.download = 'records.zip';
      link.click();
      setTimeout(() => URL.revokeObjectURL(address), 10_000);
      done.value = true;
    } catch {
      fault.value =
        'The engine on this computer does not answer. Start it again with "npm start", then reload.';
    }
  };
  return (
    <section aria-labelledby="export">
      <h2 id="export">Leave the house</h2>
      <p class="faint">
        A Darwin Core archive of {counted(count, 'record')}, each place as coarse as its line above says.
      </p>
      <div class="buttons">
        <button onClick={() => void save()} disabled={count === 0}>
          Export the archive
        </button>
        <span aria-live="polite">{done.value ? 'The archive is in your downloads.' : ''}</span>
      </div>
      {fault.value !== null && (
        <p class="told" role="alert">
          {fault.value}
        </p>
      )}
    </section>
  );
}
