/** What is sharp, hatched over the whole frame: asked for when it is wanted. */
import { useSignal } from '@preact/signals';
import type { LibraryFrame, SharpTiles, StoreName } from '@tepal/formats';
import { useEffect } from 'preact/hooks';
import { engineOf } from '../engine/engine.ts';

/** One path of all sharp tiles, joined along each row, in tiles. */
export function tilesPath({ columns, rows, tiles }: SharpTiles): string {
  const parts: string[] = [];
  for (let row = 0; row < rows; row += 1) {
    for (let column = 0; column < columns; column += 1) {
      if (tiles[row * columns + column] !== 's') continue;
      const from = column;
      while (column + 1 < columns && tiles[row * columns + column + 1] === 's') column += 1;
      parts.push(`M${from} ${row}H${column + 1}V${row + 1}H${from}Z`);
    }
  }
  return parts.join('');
}

/** @param seen.box where the whole frame lies [CSS px of the pane] */
export function SharpHatch(seen: {
  readonly store: StoreName;
  readonly frame: LibraryFrame;
  readonly box: {
    readonly left: number;
    readonly top: number;
    readonly width: number;
    readonly height: number;
  };
}) {
  const { store, frame, box } = seen;
  const found = useSignal<SharpTiles | null>(null);
  useEffect(() => {
    void engineOf(store)
      .sharpTiles(frame.id)
      .then((answer) => (found.value = answer.ok ? answer.value : null));
  }, [store, frame.id]);
  const map = found.value;
  if (map === null) return null;
  const hatch = `hatch-${frame.id.slice(-12)}`;
  return (
    <svg
      class="sharp-hatch"
      role="img"
      aria-label={map.tiles.includes('s') ? 'Hatched where it is sharp' : 'Nothing in this frame is sharp'}
      style={{
        left: `${box.left}px`,
        top: `${box.top}px`,
        width: `${box.width}px`,
        height: `${box.height}px`,
      }}
      viewBox={`0 0 ${frame.widthPx / map.tilePx} ${frame.heightPx / map.tilePx}`}
      preserveAspectRatio="none"
    >
      <defs>
        <pattern
          id={hatch}
          width="1.4"
          height="1.4"
          patternUnits="userSpaceOnUse"
          patternTransform="rotate(45)"
        >
          <path d="M0 0V1.4" stroke="#fff" stroke-width="0.5" />
          <path d="M0 0V1.4" stroke="#24221d" stroke-width="0.22" />
        </pattern>
      </defs>
      <path d={tilesPath(map)} fill={`url(#${hatch})`} />
    </svg>
  );
}
