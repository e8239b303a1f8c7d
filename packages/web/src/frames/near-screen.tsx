/** What is far from the screen is not drawn: a day of thousands of frames scrolls as a short one does. */
import type { ComponentChildren } from 'preact';
import { useEffect, useRef, useState } from 'preact/hooks';

/** Drawn this far before and behind the screen, in heights of it. */
const reach = '150%';

/** One watcher for all: thousands of watchers of their own would cost what they spare. */
const told = new Map<Element, (near: boolean, heightCss: number) => void>();
let watcher: IntersectionObserver | null = null;

function watch(element: Element, tell: (near: boolean, heightCss: number) => void): () => void {
  watcher ??= new IntersectionObserver(
    (entries) => {
      for (const { target, isIntersecting, boundingClientRect } of entries) {
        told.get(target)?.(isIntersecting, boundingClientRect.height);
      }
    },
    { rootMargin: `${reach} 0px` },
  );
  told.set(element, tell);
  watcher.observe(element);
  return () => {
    told.delete(element);
    watcher?.unobserve(element);
  };
}

/**
 * Draws its content while it is near the screen; else a space of the height it had, or is expected to have. What holds
 * the keyboard's focus stays.
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
  const heightCss = useRef(near.heightCss);
  const space = useRef<HTMLDivElement>(null);
  useEffect(() => {
    const element = space.current;
    if (element === null) return;
    return watch(element, (isNear, height) => {
      if (!isNear && element.contains(document.activeElement)) return;
      if (!isNear && height > 0) heightCss.current = height;
      setDrawn(isNear);
    });
  }, []);
  return (
    <div ref={space} style={drawn ? undefined : { height: `${heightCss.current}px` }}>
      {drawn && near.children()}
    </div>
  );
}
