/** Hours in words, with a range: what a person would say of the wind, the light, the dew. */
import type { HourAtPlant } from './hour/hours.ts';
import { dewWord } from './hour/drops.ts';

/** "stirring", or "still to nodding" where the range spans more than a word; null where not known. */
export function windInWords({ wind }: Pick<HourAtPlant, 'wind'>): string | null {
  if (wind.rangeWords === null) return null;
  const [low, high] = wind.rangeWords;
  return low === high ? low : `${low} to ${high}`;
}

/** "soft", "some sun", "hard sun", "dark"; null where not known. Bounds as in the judging of light. */
export function lightInWords({
  light,
  lightingRatioStops: stops,
}: Pick<HourAtPlant, 'light' | 'lightingRatioStops'>): string | null {
  if (light.illuminanceLux === null || stops === null) return null;
  if (light.illuminanceLux < 40) return 'dark';
  if (light.illuminanceLux < 640) return 'dim';
  return stops < 0.7 ? 'soft' : stops < 2 ? 'some sun' : 'hard sun';
}

/** "dew likely, drops left from rain", "dry"; null where not known. */
export function dropsInWords({ drops }: Pick<HourAtPlant, 'drops'>): string | null {
  const { fromDew, fromRain, driesInH } = drops;
  if (fromDew === null && fromRain === null) return null;
  const dew = fromDew === null ? 'dew not known' : `dew ${dewWord(fromDew)}`;
  const rain = (fromRain ?? 0) < 0.25 ? [] : [`drops from rain ${dewWord(fromRain ?? 0)}`];
  const wet = rain.length > 0 || dewWord(fromDew ?? 0) !== 'unlikely';
  const drying =
    wet && driesInH !== null && driesInH > 0
      ? [`dry in ${driesInH > 24 ? '' : 'about '}${inHours(driesInH)}`]
      : [];
  return [dew, ...rain, ...drying].join(', ');
}

function inHours(hours: number): string {
  if (hours > 24) return 'more than a day';
  if (hours < 1) return `${Math.max(5, Math.round((hours * 60) / 5) * 5)} min`;
  return `${Math.round(hours)} h`;
}

/** The hour in one sentence: "Soft, still to stirring, dew likely, insects torpid, 8 °C." */
export function hourInWords(hour: HourAtPlant): string {
  const { temperatureC } = hour.air;
  const said = [
    lightInWords(hour) ?? 'light not known',
    windInWords(hour) ?? 'wind not known',
    dropsInWords(hour) ?? 'drops not known',
    ...(hour.insects === null ? [] : [`insects ${hour.insects}`]),
    ...(temperatureC === null ? [] : [`${temperatureC.toFixed(0)} °C`]),
  ].join(', ');
  return `${said.charAt(0).toUpperCase()}${said.slice(1)}.`;
}
