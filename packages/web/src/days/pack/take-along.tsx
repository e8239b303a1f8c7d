/** The hours taken along: as a calendar file that gives no place away, and on paper. */
import { useSignal } from '@preact/signals';
import type { StoreName } from '@tepal/formats';
import { notebookOf } from '../../field/notebook.ts';
import { linesOf } from '../answer/hours-list.tsx';
import type { Overview } from '../compute/worker-messages.ts';
import { printPage } from './print-page.ts';

/** So many entries a calendar takes gladly. */
const mostEntries = 12;

export function TakeAlong({ store, overview }: { store: StoreName; overview: Overview }) {
  const withheld = useSignal<readonly string[]>([]);
  const lines = linesOf(overview.windows).slice(0, mostEntries);
  if (lines.length === 0) {
    return (
      <div class="buttons take-along">
        <button class="quiet" onClick={printPage}>
          Print this page
        </button>
      </div>
    );
  }
  const save = () => {
    const open = notebookOf(store).peek();
    if (open === null) return;
    const zone = Intl.DateTimeFormat().resolvedOptions().timeZone ?? null;
    const windows = lines.flatMap(([window]) => (window === undefined ? [] : [window]));
    const made = open.room.calendarOfWindows(open.notebook, windows, {
      ...{ madeAtMs: Date.now(), language: 'en', zone },
    });
    withheld.value = made.withheld;
    const link = document.createElement('a');
    link.href = URL.createObjectURL(new Blob([made.text], { type: 'text/calendar' }));
    link.download = 'hours.ics';
    link.click();
    setTimeout(() => URL.revokeObjectURL(link.href), 10_000);
  };
  return (
    <div class="take-along">
      <div class="buttons">
        <button class="quiet" onClick={save}>
          {lines.length === 1
            ? 'These hours as a calendar file'
            : `The best ${lines.length} as a calendar file`}
        </button>
        <button class="quiet" onClick={printPage}>
          Print this page
        </button>
      </div>
      {withheld.value.map((words) => (
        <p class="faint small" key={words} role="status">
          {words}
        </p>
      ))}
    </div>
  );
}
