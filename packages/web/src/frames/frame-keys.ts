/** K, M, O to decide, arrows to move, Z to undo, B to lay beside, Enter to open. */
import type { Signal } from '@preact/signals';
import type { Decision, StoreName } from '@tepal/formats';
import { useEffect } from 'preact/hooks';
import { addressOf } from '../app/address.ts';
import { address, goTo } from '../app/navigate.ts';
import type { Choosing } from './choosing.ts';

const decisions: Readonly<Record<string, Decision>> = { k: 'keep', m: 'maybe', o: 'out' };
export const mostBeside = 4;

export interface FrameKeys {
  readonly choosing: Choosing;
  readonly chosen: Signal<string | null>;
  readonly beside: Signal<readonly string[]>;
  readonly store: StoreName;
}

/** Puts a frame with those to be laid side by side, or takes it away; the first goes when there are too many. */
export function layBeside(beside: Signal<readonly string[]>, id: string): void {
  beside.value = beside.value.includes(id)
    ? beside.value.filter((one) => one !== id)
    : [...beside.value, id].slice(-mostBeside);
}

export function openBeside(store: StoreName, ids: readonly string[]): void {
  if (ids.length > 0) goTo(addressOf(store, 'frames', { beside: ids.join(',') }));
}

const isTyping = (target: EventTarget | null) =>
  target instanceof HTMLElement && target.matches('input, textarea, select, [contenteditable]');

/** The crop buttons in the order in which they stand on the page. */
const cropButtons = () => [...document.querySelectorAll<HTMLButtonElement>('button[data-frame]')];

/** The button that an arrow key leads to: beside, or nearest in the row above or below. */
function buttonTowards(key: string, from: HTMLButtonElement): HTMLButtonElement | undefined {
  const all = cropButtons();
  const at = all.indexOf(from);
  if (key === 'ArrowRight') return all[at + 1];
  if (key === 'ArrowLeft') return all[at - 1];
  const here = from.getBoundingClientRect();
  const down = key === 'ArrowDown';
  const rows = all
    .map((button) => ({ button, box: button.getBoundingClientRect() }))
    .filter(({ box }) => (down ? box.top > here.top + 20 : box.top < here.top - 20));
  const nearest = down
    ? Math.min(...rows.map(({ box }) => box.top))
    : Math.max(...rows.map(({ box }) => box.top));
  return rows
    .filter(({ box }) => Math.abs(box.top - nearest) < 20)
    .toSorted((a, b) => Math.abs(a.box.left - here.left) - Math.abs(b.box.left - here.left))[0]?.button;
}

export function useFrameKeys({ choosing, chosen, beside, store }: FrameKeys): void {
  useEffect(() => {
    const onKey = (event: KeyboardEvent) => {
      if (isTyping(event.target)) return;
      const key = event.key.toLowerCase();
      if (key === 'z' && !event.shiftKey && !event.altKey) {
        event.preventDefault();
        void choosing.undo().then((id) => {
          if (id !== null) chosen.value = id;
        });
        return;
      }
      if (event.ctrlKey || event.metaKey || event.altKey) return;
      if (address.value.query.has('beside')) return;
      const decision = decisions[key];
      if (decision !== undefined && chosen.value !== null) {
        event.preventDefault();
        void choosing.decide(chosen.value, decision);
      } else if (key === 'b' && chosen.value !== null) {
        layBeside(beside, chosen.value);
      } else if (event.key.startsWith('Arrow')) {
        const focused = document.activeElement;
        const from =
          focused instanceof HTMLButtonElement && focused.dataset['frame'] !== undefined
            ? focused
            : cropButtons().find((button) => button.dataset['frame'] === chosen.value);
        const to = from === undefined ? undefined : buttonTowards(event.key, from);
        if (to === undefined) return;
        event.preventDefault();
        to.focus();
        chosen.value = to.dataset['frame'] ?? null;
        to.scrollIntoView({ block: 'nearest' });
      }
    };
    addEventListener('keydown', onKey);
    return () => removeEventListener('keydown', onKey);
  }, [choosing, store]);
}
