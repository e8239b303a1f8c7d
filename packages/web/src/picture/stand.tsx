/** The picture on its neutral grey: whole, or at 100 % with before and after beside each other and locked together. */
import { useSignal } from '@preact/signals';
import type { Picture } from '@tepal/formats';
import { useRef } from 'preact/hooks';

interface Side {
  readonly name: string;
  /** Address of a small copy, and of the picture in its full size. */
  readonly whole: string;
  readonly full: string;
}

interface StandProps {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly after: Side;
  readonly before: Side | null;
  readonly gaps: Picture['gaps'];
  /** What stands in the middle at first, fractions of the picture. */
  readonly middle?: { readonly x: number; readonly y: number };
}

export function Stand({ widthPx, heightPx, after, before, gaps, middle = { x: 0.5, y: 0.5 } }: StandProps) {
  const close = useSignal(false);
  const gapsShown = useSignal(gaps.length > 0);
  const at = useSignal(middle);
  const held = useRef<{ x: number; y: number; from: { x: number; y: number } } | null>(null);
  const sides = before === null ? [after] : [before, after];
  const ratio = devicePixelRatio;
  const moveBy = (xPx: number, yPx: number, from = at.value) => {
    const inside = (value: number) => Math.min(1, Math.max(0, value));
    at.value = { x: inside(from.x + xPx / widthPx), y: inside(from.y + yPx / heightPx) };
  };
  const onKey = (event: KeyboardEvent) => {
    const step: Record<string, readonly [number, number]> = {
      ArrowLeft: [-60, 0],
      ArrowRight: [60, 0],
      ArrowUp: [0, -60],
      ArrowDown: [0, 60],
    };
    const by = step[event.key];
    if (by === undefined || !close.value) return;
    event.preventDefault();
    moveBy(by[0], by[1]);
  };
  return (
    <div class="stand">
      <div class={`sides of-${close.value ? sides.length : 1}`}>
        {(close.value ? sides : [after]).map((side) => (
          <figure key={side.name}>
            <div
              class={close.value ? 'pane' : 'whole-picture'}
              tabIndex={close.value ? 0 : undefined}
              role="img"
              aria-label={`${side.name}, ${close.value ? 'at 100 %, arrows move it' : 'whole'}`}
              onKeyDown={onKey}
              onPointerDown={(event) => {
                if (!close.value) return;
                event.currentTarget.setPointerCapture(event.pointerId);
                held.current = { x: event.clientX, y: event.clientY, from: at.value };
              }}
              onPointerMove={(event) => {
                const from = held.current;
                if (from === null) return;
                moveBy(-(event.clientX - from.x) * ratio, -(event.clientY - from.y) * ratio, from.from);
              }}
              onPointerUp={() => (held.current = null)}
              onPointerCancel={() => (held.current = null)}
            >
              {close.value ? (
                <div
                  class="full"
                  style={{
                    width: `${widthPx / ratio}px`,
                    height: `${heightPx / ratio}px`,
                    transform: `translate(${(-at.value.x * widthPx) / ratio}px, ${(-at.value.y * heightPx) / ratio}px)`,
                  }}
                >
                  <img alt="" draggable={false} src={side.full} />
                  {side === after && gapsShown.value && (
                    <Gaps gaps={gaps} widthPx={widthPx} heightPx={heightPx} />
                  )}
                </div>
              ) : (
                <div class="fitted" style={{ aspectRatio: `${widthPx} / ${heightPx}` }}>
                  <img alt="" draggable={false} src={side.whole} />
                  {gapsShown.value && <Gaps gaps={gaps} widthPx={widthPx} heightPx={heightPx} />}
                </div>
              )}
            </div>
            {close.value && <figcaption>{side.name}</figcaption>}
          </figure>
        ))}
      </div>
      <div class="stand-buttons">
        <button aria-pressed={close.value} onClick={() => (close.value = !close.value)}>
          {close.value ? 'Whole' : before === null ? 'At 100 %' : 'Before and after, at 100 %'}
        </button>
        {gaps.length > 0 && (
          <button aria-pressed={gapsShown.value} onClick={() => (gapsShown.value = !gapsShown.value)}>
            {gapsShown.value ? 'Hide what no frame has sharp' : 'Hatch what no frame has sharp'}
          </button>
        )}
      </div>
    </div>
  );
}

function Gaps({ gaps, widthPx, heightPx }: Pick<StandProps, 'gaps' | 'widthPx' | 'heightPx'>) {
  const pitch = Math.max(widthPx, heightPx) / 110;
  return (
    <svg aria-hidden="true" class="gaps" viewBox={`0 0 ${widthPx} ${heightPx}`} preserveAspectRatio="none">
      <defs>
        <pattern
          id="gap"
          width={pitch}
          height={pitch}
          patternUnits="userSpaceOnUse"
          patternTransform="rotate(24)"
        >
          <path d={`M${pitch / 2} 0V${pitch}`} stroke="#fff" stroke-width={pitch / 3.4} />
          <path d={`M${pitch / 2 + pitch / 4} 0V${pitch}`} stroke="#24221d" stroke-width={pitch / 6} />
        </pattern>
      </defs>
      {gaps.map(({ x, y, widthPx: width, heightPx: height }) => (
        <rect key={`${x} ${y}`} x={x} y={y} width={width} height={height} fill="url(#gap)" />
      ))}
    </svg>
  );
}
