/** What is far from the screen is not drawn yet: a day of thousands of frames scrolls as a short one does. */
import type { ComponentChildren } from 'preact';
import { useEffect, useRef, useState } from 'preact/hooks';

/** Drawn this far ahead of the scrolling, in heights of the screen. */
const ahead = '150%';

/** One watcher for all that waits: thousands of watchers of their own would cost what they spare. */
const waiting = new Map<Element, () => void>();
let watcher: IntersectionObserver | null = null;

function whenNear(element: Element, draw: () => void): () => void {
  watcher ??= new IntersectionObserver(
    (entries) => {
      for (const { target, isIntersecting } of entries) if (isIntersecting) waiting.get(target)?.();
    },
    { rootMargin: `${ahead} 0px` },
  );
  waiting.set(element, draw);
  watcher.observe(element);
  return () => {
    waiting.delete(element);
    watcher?.unobserve(element);
  };
}

/**
 * Draws its content once it comes near the screen; until then a space of about its height.
 *
 * @param near.heightCss about how high the content will be [CSS px]
 * @param near.first drawn at once, as what stands on the first screen must be
 */
export function NearScreen(near: {
  readonly heightCss: number;
  readonly first: boolean;
  readonly children: () => ComponentChildren;
}) {
  const [drawn, setDrawn] = useState(near.first);
  const space = useRef<HTMLDivElement>(null);
  useEffect(() => {
    const element = space.current;
    if (drawn || element === null) return;
    return whenNear(element, () => setDrawn(true));
  }, [drawn]);
  if (drawn) return <>{near.children()}</>;
  return <div class="not-drawn-yet" ref={space} style={{ height: `${near.heightCss}px` }} />;
}
