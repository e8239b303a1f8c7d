/** The way out of the house: print, screen or archive, with its caption, and what is withheld said plainly. */
import { useSignal } from '@preact/signals';
import {
  enginePaths,
  type DeliverDocument,
  type DeliverRequest,
  type Job,
  type StoreName,
} from '@tepal/formats';
import { engineOf } from '../engine/engine.ts';
import { JobEnd, JobProgress } from '../engine/job-progress.tsx';
import { hasEnded, watchJob } from '../engine/watch-job.ts';
import { bytesWords } from '../words/amounts.ts';

interface FormProps {
  readonly store: StoreName;
  readonly of: { readonly pictureId: string } | { readonly frameId: string };
  readonly title: string;
  readonly widthPx: number;
  readonly heightPx: number;
}

type Purpose = DeliverRequest['as'];

const purposes: readonly (readonly [Purpose, string, string])[] = [
  ['screen', 'Screen', 'JPEG in sRGB, inside a box of pixels'],
  ['print', 'Print', 'at a size in millimetres'],
  ['archive', 'Archive', '16-bit TIFF, full size, nothing thrown away'],
];

export function DeliverForm({ store, of, title, widthPx, heightPx }: FormProps) {
  const engine = engineOf(store);
  const purpose = useSignal<Purpose>('screen');
  const job = useSignal<Job | null>(null);
  const fault = useSignal<string | null>(null);
  const landscape = widthPx >= heightPx;

  const deliver = async (form: HTMLFormElement) => {
    fault.value = null;
    job.value = null;
    const answer = await engine.deliver(requestFrom(new FormData(form), purpose.value, of));
    if (!answer.ok) {
      fault.value = answer.fault.message;
      return;
    }
    const ended = await watchJob(engine, answer.value.id, (now) => (job.value = now));
    if (ended !== null && 'lost' in ended) fault.value = ended.lost;
  };

  const running = job.value !== null && !hasEnded(job.value);
  return (
    <section aria-labelledby="deliver">
      <h2 id="deliver">Deliver</h2>
      <form
        onSubmit={(event) => {
          event.preventDefault();
          void deliver(event.currentTarget);
        }}
      >
        <fieldset class="field">
          <legend>What for</legend>
          <div class="choices">
            {purposes.map(([value, word]) => (
              <label key={value}>
                <input
                  type="radio"
                  name="as"
                  value={value}
                  checked={purpose.value === value}
                  onChange={() => (purpose.value = value)}
                />
                {word}
              </label>
            ))}
          </div>
          <p class="hint">{purposes.find(([value]) => value === purpose.value)?.[2]}</p>
        </fieldset>
        <div class="fields">
          {purpose.value === 'screen' && (
            <>
              <Field name="boxWidth" label="At most wide, px" value={landscape ? '1920' : '1200'} number />
              <Field name="boxHeight" label="At most high, px" value={landscape ? '1200' : '1920'} number />
              <Field name="limitKb" label="At most, kB (may be left empty)" value="" number />
            </>
          )}
          {purpose.value === 'print' && (
            <>
              <Field name="sizeWidth" label="Width, mm" value={landscape ? '420' : '280'} number />
              <Field name="sizeHeight" label="Height, mm" value={landscape ? '280' : '420'} number />
            </>
          )}
        </div>
        <div class="fields">
          <Field name="title" label="Title" value={title} />
          <Field name="scientificName" label="Scientific name" value="" />
          <Field name="creator" label="Creator" value="" />
          <Field name="rights" label="Rights" value="" />
          <Field name="keywords" label="Keywords, with commas between" value="" />
          <div class="field wide">
            <label for="caption">Caption</label>
            <textarea id="caption" name="caption" rows={2} />
          </div>
        </div>
        <p class="hint">
          Coordinates, place names and everything that could give the place away are left out.
        </p>
        <div class="buttons">
          <button class="first" disabled={running}>
            {running ? 'Delivering' : 'Deliver'}
          </button>
        </div>
      </form>
      {fault.value !== null && (
        <p class="told" role="alert">
          {fault.value}
        </p>
      )}
      {job.value !== null && running && <JobProgress job={job.value} engine={engine} />}
      {job.value !== null && <JobEnd job={job.value} />}
      {job.value !== null && job.value.deliver !== null && (
        <Delivered made={job.value.deliver} href={enginePaths.delivered(store, job.value.id)} />
      )}
    </section>
  );
}

function Delivered({ made, href }: { made: DeliverDocument; href: string }) {
  return (
    <div class="delivered" aria-live="polite">
      <h3>
        Delivered: {made.widthPx} × {made.heightPx} px, {made.profile}, {bytesWords(made.bytes)}
      </h3>
      <p class="small faint">{made.output}</p>
      <div class="buttons">
        <a class="button" download href={href}>
          Download the delivered file
        </a>
      </div>
      <h3>Withheld</h3>
      {made.withheld.length === 0 ? (
        <p class="small">Nothing: the original held no place.</p>
      ) : (
        <ul class="list plain">
          {made.withheld.map((what) => (
            <li key={what}>{what}</li>
          ))}
        </ul>
      )}
    </div>
  );
}

function Field(field: { name: string; label: string; value: string; number?: boolean }) {
  return (
    <div class="field">
      <label for={field.name}>{field.label}</label>
      <input
        id={field.name}
        name={field.name}
        defaultValue={field.value}
        inputMode={field.number === true ? 'numeric' : undefined}
        pattern={field.number === true ? '[0-9]*' : undefined}
        title={field.number === true ? 'a whole number' : undefined}
        autocomplete="off"
      />
    </div>
  );
}

function requestFrom(form: FormData, as: Purpose, of: FormProps['of']): DeliverRequest {
  const text = (name: string) => {
    const value = form.get(name);
    return typeof value === 'string' ? value.trim() : '';
  };
  const box = { width: Number(text('boxWidth')), height: Number(text('boxHeight')) };
  const size = { width: Number(text('sizeWidth')), height: Number(text('sizeHeight')) };
  const keywords = text('keywords')
    .split(',')
    .map((word) => word.trim())
    .filter((word) => word !== '');
  const spoken = Object.fromEntries(
    ['title', 'caption', 'creator', 'rights', 'scientificName']
      .map((name) => [name, text(name)] as const)
      .filter(([, value]) => value !== ''),
  );
  return {
    ...of,
    as,
    ...spoken,
    ...(keywords.length > 0 ? { keywords } : {}),
    ...(as === 'screen' && box.width > 0 && box.height > 0 ? { boxPx: box } : {}),
    ...(as === 'screen' && Number(text('limitKb')) > 0 ? { limitKb: Number(text('limitKb')) } : {}),
    ...(as === 'print' && size.width > 0 && size.height > 0 ? { sizeMm: size } : {}),
  };
}
