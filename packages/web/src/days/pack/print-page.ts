/** Printing the page: what is far from the screen is drawn for the paper too. */
import { signal } from '@preact/signals';

/** Whether everything is drawn, near the screen or not. */
export const printing = signal(false);

/** Ribbons know their width one picture after they are in the page; two more, and they are drawn. */
const picturesToWait = 4;

export function printPage(): void {
  printing.value = true;
  let left = picturesToWait;
  const wait = () => {
    if (--left > 0) requestAnimationFrame(wait);
    else print();
  };
  addEventListener('afterprint', () => (printing.value = false), { once: true });
  requestAnimationFrame(wait);
}
