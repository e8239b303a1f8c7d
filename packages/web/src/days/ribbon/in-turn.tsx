/** Ribbons drawn one after the other, so that several that come near at once do not hold the page up. */
import type { ComponentChildren } from 'preact';
import { useEffect, useState } from 'preact/hooks';

let last: Promise<unknown> = Promise.resolve();

/** Waits for those before, and then for a task of its own. */
function turn(): Promise<void> {
  const mine = last.then(() => new Promise<void>((resolve) => setTimeout(resolve, 0)));
  last = mine;
  return mine;
}

/**
 * @param props.now drawn at once, as what stands on the first screen must be
 * @param props.heightCss about how high the content will be [CSS px]
 */
export function InTurn(props: { now: boolean; heightCss: number; children: () => ComponentChildren }) {
  const [drawn, setDrawn] = useState(props.now);
  useEffect(() => {
    let wanted = true;
    if (!drawn) void turn().then(() => wanted && setDrawn(true));
    return () => {
      wanted = false;
    };
  }, []);
  return drawn ? <>{props.children()}</> : <div style={{ height: `${props.heightCss}px` }} />;
}
