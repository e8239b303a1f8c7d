/** The answer of `tepal when` for reading. */
import { dropsInWords, lightInWords, type WhenAnswer } from '@tepal/advice';
import { table } from '../print.ts';

/** Hours as a table, then what suits, what fails, and what to mind. */
export function readableWhen(answer: WhenAnswer): string {
  const { hours, windows, misses, cautions, forecast, here, outlook } = answer;
  const told = (value: number | null, digits = 0) => (value === null ? '–' : value.toFixed(digits));
  const rows = hours.map((hour) => [
    hour.time.slice(0, 16).replace('T', ' '),
    told(hour.sun.altitudeDeg),
    told(hour.light.illuminanceLux),
    lightInWords(hour) ?? '–',
    told(hour.wind.atPlantMs, 1),
    hour.wind.inWords ?? '–',
    told(hour.air.temperatureC, 1),
    [
      dropsInWords(hour) ?? '–',
      ...(hour.missing.length === 0 ? [] : [`without ${hour.missing.join(', ')}`]),
    ].join('; '),
  ]);
  return [
    `Forecast: ${forecast.source}${forecast.ageH === null ? '' : `, ${forecast.ageH.toFixed(0)} h old`}`,
    table(['time', 'sun °', 'light lx', '', 'wind at plant m/s', '', 'air °C', ''], rows),
    ...(here.kind === 'now' ? [`Now: ${here.words}`, ...here.next] : []),
    ...windows.map(({ wanted, from, to, part, factors, weakest }) =>
      `${wanted}: ${from} to ${to}${part === null ? '' : ` (${part.word}, ${part.part})`}. ${factors.find(({ name }) => name === weakest)?.why ?? ''}`.trimEnd(),
    ),
    ...misses.map(({ wanted, failing, why }) => `${wanted}: no good hour; ${failing}: ${why}`),
    ...new Set([...windows, ...misses].flatMap(({ hints }) => hints)),
    ...(windows.length + misses.length > 0 || here.kind !== 'now'
      ? []
      : here.windows.map(({ from, to }) => `Good for any close-up: ${from} to ${to}`)),
    ...outlook
      .filter(({ wanted, word }) => wanted === null && word !== 'poor')
      .map(({ date, part, word }) => `${date}, ${part}: ${word}`),
    ...cautions,
  ].join('\n');
}
