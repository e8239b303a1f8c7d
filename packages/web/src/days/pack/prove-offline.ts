/** Proves what is needed in the meadow by reading it, not by trusting that it was stored. */
import type { StoreName } from '@tepal/formats';
import { askToKeep, kept, keeping } from '../../field/kept.ts';
import { notebookOf } from '../../field/notebook.ts';
import type { Overview } from '../compute/worker-messages.ts';
import { clockWords, weekdayWord } from '../../words/clock.ts';

/** A worker that says nothing for so long is not there [ms]. */
const patienceMs = 8000;

/** @returns what of the pages is not there without a network, in sentences */
export async function provePages(): Promise<readonly string[]> {
  const insecure = 'The pages are not kept: this address is not secure, so the browser does not allow it.';
  if (!('serviceWorker' in navigator)) return [insecure];
  const registration = await navigator.serviceWorker.getRegistration();
  const active = registration?.active ?? null;
  if (active === null) return ['The pages are not kept on this device yet; reload once and pack again.'];
  const missing = await new Promise<readonly string[] | null>((resolve) => {
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = ({ data }: MessageEvent<readonly string[]>) => resolve(data);
    setTimeout(() => resolve(null), patienceMs);
    active.postMessage('prove', [port2]);
  });
  if (missing === null) return ['Whether the pages are kept could not be found out; reload and pack again.'];
  return missing.length === 0
    ? []
    : [`${missing.length} files of the pages are not kept; reload with a network and pack again.`];
}

/** @returns what is wrong with the notebook as it lies on this device, in sentences */
export async function proveNotebook(store: StoreName): Promise<readonly string[]> {
  const open = notebookOf(store).peek();
  if (open === null) return ['The notebook is not open.'];
  try {
    const bytes = await kept<Uint8Array>('notebook');
    if (bytes === undefined) return ['The notebook does not lie on this device yet; note anything in it.'];
    const read = open.room.openNotebook(bytes);
    if (!read.ok) return [`The notebook on this device does not open: ${read.fault.message}`];
    const same = open.room.sameNotebook(read.value, open.notebook);
    await askToKeep();
    return [
      ...(same
        ? []
        : ['The notebook on this device is older than the one that is open; note anything in it.']),
      ...(keeping.peek() === 'passing'
        ? ['This browser may clear what it keeps of an address not visited for a week: open it now and then.']
        : []),
    ];
  } catch {
    return ['This browser keeps nothing for this page (a private window, or a full disk).'];
  }
}

/** A forecast that ends before this has passed says nothing of tomorrow [ms]. */
const reachMs = 24 * 3_600_000;
/** Older than this it is told as old [h]: two issues of most services. */
const oldH = 12;

/** @returns which sites have no forecast on this device that tells of tomorrow, in sentences */
export function proveForecasts({ sites }: Overview, nowMs: number): readonly string[] {
  if (sites.length === 0) return ['There is no place in the notebook yet.'];
  return sites.flatMap(({ siteName, forecast, untilMs, offsetMin }) => {
    if (forecast === null) return [`${siteName}: no forecast.`];
    if (untilMs < nowMs + reachMs) {
      return [
        `${siteName}: the forecast reaches only to ${weekdayWord(untilMs, offsetMin)}, ${clockWords(untilMs, offsetMin)}.`,
      ];
    }
    const age = forecast.ageH ?? 0;
    return age > oldH ? [`${siteName}: the forecast is ${Math.round(age)} h old.`] : [];
  });
}
