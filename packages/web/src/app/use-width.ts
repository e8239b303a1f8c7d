/** The width that a drawing has on the page, followed as the page changes. */
import { useSignal, type Signal } from '@preact/signals';
import type { RefObject } from 'preact';
import { useEffect, useRef } from 'preact/hooks';

/** @returns a ref for the element, and its width [CSS px], 0 before it is known */
export function useWidth<E extends HTMLElement>(): {
  readonly ref: RefObject<E | null>;
  readonly width: Signal<number>;
} {
  const ref = useRef<E>(null);
  const width = useSignal(0);
  useEffect(() => {
    const element = ref.current;
    if (element === null) return;
    const measure = () => (width.value = Math.floor(element.getBoundingClientRect().width));
    const watching = new ResizeObserver(measure);
    watching.observe(element);
    measure();
    return () => watching.disconnect();
  }, []);
  return { ref, width };
}
