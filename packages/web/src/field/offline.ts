/** Whether the field pages are kept for use without a network, as the header says it. */
import { computed, signal } from '@preact/signals';

const kept = signal(false);
const network = signal(navigator.onLine);

/** "works without a network", once that is true; says so when there is none. */
export const networkWords = computed(() => {
  if (!network.value) return kept.value ? 'no network; works without' : 'no network';
  return kept.value ? 'works without a network' : '';
});

/** Installs the worker that keeps the field pages; without one (an insecure address) the header stays silent. */
export async function keepFieldPages(): Promise<void> {
  addEventListener('online', () => (network.value = true));
  addEventListener('offline', () => (network.value = false));
  if (!('serviceWorker' in navigator)) return;
  try {
    await navigator.serviceWorker.register('/service-worker.js');
    await navigator.serviceWorker.ready;
    kept.value = true;
  } catch {
    // Not allowed at this address, or in this browser's private window: nothing is promised then.
    kept.value = false;
  }
}
