/** A window on one frame at 100 %, moved together with its neighbours; or the whole frame. */
import { useComputed, useSignal, useSignalEffect, type Signal } from '@preact/signals';
import { enginePaths, type LibraryFrame, type StoreName } from '@tepal/formats';
import { useEffect, useRef } from 'preact/hooks';
import { cropAround, placeUnder, type FrameCrop } from './crop-around.ts';
import { SharpHatch } from './sharp-outline.tsx';
import { FocusRing } from './focus-ring.tsx';

interface Offset {
  readonly x: number;
  readonly y: number;
}

interface PaneProps {
  readonly store: StoreName;
  readonly frame: LibraryFrame;
  /** From the point of focus to the middle of the pane [px of the frame]; one signal for all panes. */
  readonly pan: Signal<Offset>;
  /** The same, at the last rest: what the engine is asked for. */
  readonly settled: Signal<Offset>;
  readonly whole: boolean;
  /** Whether what is sharp is hatched. */
  readonly hatched: boolean;
  readonly marking: boolean;
  readonly onMark: (place: Offset) => void;
}

/** A picture that is here: what was asked for, round which middle. */
interface Shown {
  readonly url: string;
  readonly crop: FrameCrop;
  readonly middle: Offset;
}

/** Movement below this is a tap [CSS px]. */
const tapCss = 5;

/** Half as much again as is seen, so that a drag has something to show. */
const askedCrop = (frame: LibraryFrame, middle: Offset, pane: { width: number; height: number }): FrameCrop =>
  cropAround(
    { width: frame.widthPx, height: frame.heightPx },
    middle,
    { width: pane.width * 1.5, height: pane.height * 1.5 },
    devicePixelRatio,
  );

const middleAt = ({ point, widthPx, heightPx }: LibraryFrame, offset: Offset): Offset => ({
  x: point.x + offset.x / widthPx,
  y: point.y + offset.y / heightPx,
});

/** Asks for what a pane would show of a frame, before it is wanted. */
export function prefetch(store: StoreName, frame: LibraryFrame, offset: Offset): void {
  const pane = document.querySelector('.pane');
  if (pane === null) return;
  const size = { width: pane.clientWidth, height: pane.clientHeight };
  new Image().src = enginePaths.crop(store, frame.id, askedCrop(frame, middleAt(frame, offset), size));
}

export function FramePane({ store, frame, pan, settled, whole, hatched, marking, onMark }: PaneProps) {
  const pane = useRef<HTMLDivElement>(null);
  const size = useSignal({ width: 0, height: 0 });
  const shown = useSignal<Shown | null>(null);
  const drag = useRef<{ x: number; y: number; from: Offset; moved: boolean } | null>(null);
  const frameSize = { width: frame.widthPx, height: frame.heightPx };
  const middleOf = (offset: Offset): Offset => middleAt(frame, offset);

  useEffect(() => {
    const box = pane.current;
    if (box === null) return;
    const watching = new ResizeObserver(
      () => (size.value = { width: box.clientWidth, height: box.clientHeight }),
    );
    watching.observe(box);
    return () => watching.disconnect();
  }, []);

  // Swaps when what was asked for is here.
  useSignalEffect(() => {
    const { width, height } = size.value;
    const middle = middleOf(settled.value);
    if (width === 0) return;
    const crop = askedCrop(frame, middle, { width, height });
    const url = enginePaths.crop(store, frame.id, crop);
    const image = new Image();
    let current = true;
    image.onload = () => {
      if (current) shown.value = { url, crop, middle };
    };
    image.src = url;
    return () => {
      current = false;
    };
  });

  const style = useComputed(() => {
    if (shown.value === null) return {};
    const { crop, middle } = shown.value;
    const now = middleOf(pan.value);
    const { width, height } = size.value;
    return {
      left: `${crop.leftCss - width * 0.25 + ((middle.x - now.x) * frame.widthPx) / devicePixelRatio}px`,
      top: `${crop.topCss - height * 0.25 + ((middle.y - now.y) * frame.heightPx) / devicePixelRatio}px`,
      width: `${crop.widthCss}px`,
      height: `${crop.heightCss}px`,
    };
  });

  const down = (event: PointerEvent) => {
    if (whole || event.button !== 0) return;
    pane.current?.setPointerCapture(event.pointerId);
    drag.current = { x: event.clientX, y: event.clientY, from: pan.value, moved: false };
  };
  const move = (event: PointerEvent) => {
    const held = drag.current;
    if (held === null) return;
    const dx = event.clientX - held.x;
    const dy = event.clientY - held.y;
    held.moved ||= Math.hypot(dx, dy) > tapCss;
    if (!held.moved) return;
    pan.value = { x: held.from.x - dx * devicePixelRatio, y: held.from.y - dy * devicePixelRatio };
  };
  const up = (event: PointerEvent) => {
    const held = drag.current;
    drag.current = null;
    if (held?.moved === true) settled.value = pan.value;
    else if (marking && event.type === 'pointerup') onMark(placeOf(event));
  };
  const placeOf = (event: PointerEvent): Offset => {
    const box = pane.current?.getBoundingClientRect();
    if (box === undefined) return frame.point;
    if (whole) {
      const fit = Math.min(box.width / frame.widthPx, box.height / frame.heightPx);
      const from = {
        x: event.clientX - box.left - box.width / 2,
        y: event.clientY - box.top - box.height / 2,
      };
      return placeUnder(frameSize, { x: 0.5, y: 0.5 }, from, 1 / fit);
    }
    const from = { x: event.clientX - box.left - box.width / 2, y: event.clientY - box.top - box.height / 2 };
    return placeUnder(frameSize, middleOf(pan.value), from, devicePixelRatio);
  };

  const { width, height } = size.value;
  const fit = Math.min(width / frame.widthPx, height / frame.heightPx);
  const ring = whole
    ? {
        x: width / 2 + (frame.point.x - 0.5) * frame.widthPx * fit,
        y: height / 2 + (frame.point.y - 0.5) * frame.heightPx * fit,
      }
    : { x: width / 2 - pan.value.x / devicePixelRatio, y: height / 2 - pan.value.y / devicePixelRatio };
  // The whole frame as it lies in the pane: fitted, or pixel for pixel with the ring's place where the ring is.
  const scale = whole ? fit : 1 / devicePixelRatio;
  const box = {
    left: ring.x - frame.point.x * frame.widthPx * scale,
    top: ring.y - frame.point.y * frame.heightPx * scale,
    width: frame.widthPx * scale,
    height: frame.heightPx * scale,
  };
  return (
    <div
      ref={pane}
      class={`pane${marking ? ' marking' : ''}`}
      role="img"
      aria-label={`${frame.file}, ${frame.words}, ${whole ? 'whole frame' : 'at 100 %'}`}
      onPointerDown={down}
      onPointerMove={move}
      onPointerUp={up}
      onPointerCancel={up}
      onClick={(event) => {
        // In the whole frame nothing is dragged, so a plain click marks.
        if (whole && marking) onMark(placeOf(event as unknown as PointerEvent));
      }}
    >
      {whole ? (
        <img class="whole" alt="" draggable={false} src={enginePaths.preview(store, frame.id, 1600)} />
      ) : (
        shown.value !== null && <img alt="" draggable={false} src={shown.value.url} style={style.value} />
      )}
      {width > 0 && hatched && <SharpHatch store={store} frame={frame} box={box} />}
      {width > 0 && <FocusRing x={ring.x} y={ring.y} guessed={frame.point.origin === 'guessed'} />}
    </div>
  );
}
