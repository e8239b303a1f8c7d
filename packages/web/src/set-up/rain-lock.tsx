/** A lock against raindrops and sleeves: while it holds, nothing can be changed by touch. */
import type { Signal } from '@preact/signals';
import { useRef } from 'preact/hooks';

/** So long a finger rests before the lock opens [ms]; a drop does not. */
const holdMs = 700;

export function RainLock({ locked }: { locked: Signal<boolean> }) {
  const timer = useRef<ReturnType<typeof setTimeout> | null>(null);
  const release = () => {
    if (timer.current !== null) clearTimeout(timer.current);
    timer.current = null;
  };
  if (!locked.value) return <button onClick={() => (locked.value = true)}>Lock against rain</button>;
  return (
    <button
      class="first"
      aria-pressed={true}
      onPointerDown={() => {
        release();
        timer.current = setTimeout(() => (locked.value = false), holdMs);
      }}
      onPointerUp={release}
      onPointerLeave={release}
      onPointerCancel={release}
      onKeyDown={(event) => {
        if (event.key === 'Enter') locked.value = false;
      }}
    >
      Locked. Hold to open
    </button>
  );
}
