/** Other ways: every shutter against every aperture, how many frames would be sharp there. Touch one and it is set. */
import type { ExposureField } from '@tepal/advice';
import type { ExposeDocument } from '@tepal/formats';
import { useRef } from 'preact/hooks';
import { useWidth } from '../../app/use-width.ts';
import { apertureWords, shutterWords } from '../../words/amounts.ts';
import { contourPath, crossingAtRight, crossingInColumn } from './contours.ts';

interface WaysProps {
  readonly advice: ExposeDocument;
  readonly field: ExposureField;
  readonly onSet: (fNumber: number, exposureTimeS: number) => void;
}

/** Heights that are drawn, in the words that are written on them. */
const levels: readonly (readonly [number, string])[] = [
  [0.05, '1 in 20'],
  [0.1, '1 in 10'],
  [0.25, '1 in 4'],
  [0.5, '1 in 2'],
  [0.75, '3 in 4'],
];
const isoLevels = [100, 400, 1600, 6400, 25_600];

const area = { left: 54, right: 78, top: 8, bottom: 30, height: 236 };

export function OtherWays({ advice, field, onSet }: WaysProps) {
  const { ref, width } = useWidth<HTMLDivElement>();
  const held = useRef(false);
  const columns = field.fNumbers.length;
  const rows = field.exposureTimesS.length;
  const inner = { width: width.value - area.left - area.right, height: area.height - area.top - area.bottom };
  const cell = { width: inner.width / columns, height: inner.height / rows };
  const place = {
    x: (column: number) => area.left + (column + 0.5) * cell.width,
    y: (row: number) => area.top + (row + 0.5) * cell.height,
  };
  const odds = field.rows.map((row) => row.map(({ sharp }) => sharp));
  const isoDoublings = field.rows.map((row) => row.map(({ iso }) => Math.log2(iso)));
  const here = {
    column: nearest(field.fNumbers, advice.recommended.fNumber),
    row: nearest(field.exposureTimesS, advice.recommended.exposureTimeNominalS),
  };
  const set = (column: number, row: number) => {
    const fNumber = field.fNumbers[Math.min(columns - 1, Math.max(0, column))];
    const time = field.exposureTimesS[Math.min(rows - 1, Math.max(0, row))];
    if (fNumber !== undefined && time !== undefined) onSet(fNumber, time);
  };
  const touch = (event: PointerEvent & { currentTarget: Element }) => {
    const box = event.currentTarget.getBoundingClientRect();
    set(
      Math.floor((event.clientX - box.left - area.left) / cell.width),
      Math.floor((event.clientY - box.top - area.top) / cell.height),
    );
  };
  const onKey = (event: KeyboardEvent) => {
    const moves: Record<string, readonly [number, number]> = {
      ArrowLeft: [-1, 0],
      ArrowRight: [1, 0],
      ArrowUp: [0, -1],
      ArrowDown: [0, 1],
    };
    const by = moves[event.key];
    if (by === undefined) return;
    event.preventDefault();
    set(here.column + by[0], here.row + by[1]);
  };
  const words = `${apertureWords(advice.recommended.fNumber)}, ${shutterWords(advice.recommended.exposureTimeNominalS)}, ${Math.round(advice.odds.sharp * 100)} % sharp`;
  return (
    <section aria-labelledby="ways">
      <div class="part-head">
        <h2 id="ways">Other ways</h2>
        <span class="faint small">how many frames are sharp</span>
      </div>
      <div ref={ref}>
        {width.value > 0 && (
          <svg
            class="ways-field"
            width={width.value}
            height={area.height}
            role="slider"
            tabindex={0}
            aria-label="Shutter and aperture, arrows move"
            aria-valuemin={0}
            aria-valuemax={columns * rows - 1}
            aria-valuenow={here.row * columns + here.column}
            aria-valuetext={words}
            onKeyDown={onKey}
            onPointerDown={(event) => {
              held.current = true;
              event.currentTarget.setPointerCapture(event.pointerId);
              touch(event);
            }}
            onPointerMove={(event) => {
              if (held.current) touch(event);
            }}
            onPointerUp={() => (held.current = false)}
            onPointerCancel={() => (held.current = false)}
          >
            <rect class="field-edge" x={area.left} y={area.top} width={inner.width} height={inner.height} />
            {odds.map((row, y) =>
              row.map((sharp, x) => (
                <rect
                  key={`${x} ${y}`}
                  class="field-cell"
                  x={area.left + x * cell.width}
                  y={area.top + y * cell.height}
                  width={cell.width}
                  height={cell.height}
                  style={{ opacity: tone(sharp) }}
                />
              )),
            )}
            {isoLevels.map((iso) => {
              const row = crossingAtRight(isoDoublings, Math.log2(iso));
              return (
                <g key={iso} class="iso-line">
                  <path d={contourPath(isoDoublings, Math.log2(iso), place)} />
                  {row !== null && (
                    <text x={width.value - area.right + 6} y={place.y(row) + 4}>
                      ISO {iso}
                    </text>
                  )}
                </g>
              );
            })}
            {levels.map(([level]) => (
              <path key={level} class="contour" d={contourPath(odds, level, place)} />
            ))}
            {namedLevels(odds, columns, place.y, here).map(({ words: name, column, y }) => (
              <text key={name} class="contour-words" x={place.x(column)} y={y}>
                {name}
              </text>
            ))}
            {field.exposureTimesS.map((time, row) =>
              row % 3 === 0 ? (
                <text key={time} class="axis" x={area.left - 8} y={place.y(row) + 4} text-anchor="end">
                  {shutterWords(time)}
                </text>
              ) : null,
            )}
            {field.fNumbers.map((fNumber, column) =>
              column % 3 === 0 ? (
                <text key={fNumber} class="axis" x={place.x(column)} y={area.height - 8} text-anchor="middle">
                  {apertureWords(fNumber)}
                </text>
              ) : null,
            )}
            <circle class="here" cx={place.x(here.column)} cy={place.y(here.row)} r={8} />
          </svg>
        )}
      </div>
    </section>
  );
}

/** The words of each contour, inside it where it stands highest, those left out that would cover another. */
function namedLevels(
  odds: readonly (readonly number[])[],
  columns: number,
  yOf: (row: number) => number,
  here: { readonly column: number; readonly row: number },
) {
  const named: { words: string; column: number; y: number }[] = [];
  for (const [level, words] of levels.toReversed()) {
    const crossings = Array.from({ length: columns }, (_, column) => ({
      column,
      row: crossingInColumn(odds, level, column),
    })).flatMap(({ column, row }) => (row === null ? [] : [{ column, row }]));
    const highest = crossings.toSorted((a, b) => a.row - b.row)[0];
    if (highest === undefined) continue;
    const y = yOf(highest.row) + 16;
    const wanted = Math.min(highest.column, columns * 0.6);
    const covered = Math.abs(y - yOf(here.row)) < 20 && Math.abs(wanted - here.column) < 3;
    const column = covered ? here.column - 3.5 : wanted;
    if (named.every((other) => Math.abs(other.y - y) > 15)) named.push({ words, column, y });
  }
  return named;
}

/** One hue in steps, so that it reads as bands. */
function tone(sharp: number): number {
  const band = levels.filter(([level]) => sharp >= level).length;
  return band * 0.13;
}

function nearest(list: readonly number[], value: number): number {
  const gaps = list.map((one) => Math.abs(Math.log(one / value)));
  return gaps.indexOf(Math.min(...gaps));
}
