/** One hour opened: its numbers, and for the wind the factors that brought it down to the plant, with their sources. */
import { dewWord } from '@tepal/advice';
import { plantMotion } from '@tepal/science';
import { digits, oneDecimal, percent, rangeWords } from '../../words/amounts.ts';
import { clockWords } from '../../words/clock.ts';
import { lightWord } from '../../words/light.ts';
import type { Timed } from '../day-split.ts';
import { lullWords } from './lull-words.ts';

interface DetailsProps {
  readonly timed: Timed;
  readonly offsetMin: number;
  readonly onClose: () => void;
  readonly onStep: (by: number) => void;
}

const compass = ['north', 'north-east', 'east', 'south-east', 'south', 'south-west', 'west', 'north-west'];

/** Which habits find their flowers open. */
function openWords(open: NonNullable<Timed['hour']['open']>): string {
  const named = {
    'needs sun': 'those that need sun',
    morning: 'morning ones',
    'shut by noon': 'those shut by noon',
  };
  return (['needs sun', 'morning', 'shut by noon'] as const)
    .map((habit) => {
      const share = open[habit];
      const word = share === null ? 'not known' : share >= 0.6 ? 'open' : share >= 0.3 ? 'half open' : 'shut';
      return `${named[habit]} ${word}`;
    })
    .join(', ');
}

/** Less water than this on the leaves is no drop that one sees [mm]. */
const leastWaterMm = 0.01;

export function HourDetails({ timed, offsetMin, onClose, onStep }: DetailsProps) {
  const { hour, timeMs } = timed;
  const { sun, light, wind, lull, air, drops } = hour;
  const known = <T,>(value: T | null, say: (value: T) => string) =>
    value === null ? 'not known' : say(value);
  const said = <T,>(value: T | null | undefined, say: (value: T) => string) =>
    value === null || value === undefined ? '' : say(value);
  const dark = sun.altitudeDeg < 0;
  const water = (drops.rainWaterMm ?? 0) + (drops.dewWaterMm ?? 0);
  const rows: readonly (readonly [string, string])[] = [
    [
      'Light',
      `${lightWord(light.illuminanceLux, light.diffuseShare)}: ${known(light.illuminanceLux, (lux) => `${Number(digits(lux)).toLocaleString('en-GB')} lx`)}, ${known(light.diffuseShare, (share) => `${percent(share)} from the sky`)}` +
        said(
          dark ? null : light.sidesStops,
          (stops) => `; lit side ${oneDecimal(stops)} stops over the shaded`,
        ),
    ],
    [
      'Sun',
      `${oneDecimal(sun.altitudeDeg).replace('-', '−')}° ${sun.altitudeDeg < 0 ? '(below the horizon)' : sun.clearsHorizon === false ? 'high, hidden from the place' : 'high'}, in the ${compass[Math.round(sun.azimuthDeg / 45) % 8]}`,
    ],
    [
      'Wind at the plant',
      known(wind.atPlantMs, (ms) => `${wind.inWords ?? plantMotion(ms)}: ${oneDecimal(ms)} m/s`) +
        said(wind.rangeMs, ([low, high]) => ` (${rangeWords(low, high, 'm/s')})`) +
        known(wind.gustAtPlantMs, (ms) => `, gusts ${oneDecimal(ms)} m/s`),
    ],
    ['Lulls', lullWords(lull)],
    [
      'Air',
      `${known(air.temperatureC, (c) => `${oneDecimal(c)} °C`)}, humidity ${known(air.relativeHumidity, percent)}, dew point ${known(air.dewPointC, (c) => `${oneDecimal(c)} °C`)}`,
    ],
    [
      'Drops',
      `from dew ${known(drops.fromDew, (chance) => `${dewWord(chance)} (${percent(chance)})`)}, from rain ${known(drops.fromRain, (chance) => `${dewWord(chance)} (${percent(chance)})`)}`,
    ],
    ...(drops.driesInH === null || drops.driesInH === undefined || water < leastWaterMm
      ? []
      : [['Dry again', `in about ${digits(drops.driesInH)} h at this hour’s rate`] as const]),
    ['Insects', hour.insects ?? 'not known'],
    ...(hour.open === undefined || dark ? [] : [['Flowers', openWords(hour.open)] as const]),
  ];
  return (
    <div class="hour-details" role="group" aria-label={`The hour of ${clockWords(timeMs, offsetMin)}`}>
      <div class="hour-head">
        <h3>{clockWords(timeMs, offsetMin)}</h3>
        <button class="quiet" onClick={() => onStep(-1)}>
          Hour before
        </button>
        <button class="quiet" onClick={() => onStep(1)}>
          Hour after
        </button>
        <button class="quiet" onClick={onClose}>
          Close
        </button>
      </div>
      <dl>
        {rows.map(([name, value]) => (
          <div key={name}>
            <dt>{name}</dt>
            <dd>{value}</dd>
          </div>
        ))}
      </dl>
      {wind.factors.length > 0 && (
        <table>
          <caption>
            {known(
              wind.forecastMs,
              (ms) => `From ${oneDecimal(ms)} m/s forecast at ${wind.forecastHeightM} m`,
            )}{' '}
            down to the plant
          </caption>
          <thead>
            <tr>
              <th scope="col">Step</th>
              <th scope="col">Times</th>
              <th scope="col">Source</th>
            </tr>
          </thead>
          <tbody>
            {wind.factors.map(({ name, value, source }) => (
              <tr key={name}>
                <td>{name}</td>
                <td>{digits(value)}</td>
                <td>{source}</td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
      {hour.missing.length > 0 && <p class="faint">The forecast did not say: {hour.missing.join(', ')}.</p>}
    </div>
  );
}
