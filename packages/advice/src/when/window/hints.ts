/** What is worth saying beside a window: wishes that pull against each other, and the way there and back. */
import type { HourAtPlant } from '../hour/hours.ts';
import type { WantedHours } from './needs.ts';

/** Expected wait from which a lull is worth a sentence [s]. */
const longWaitS = 60;

/** Sentences about what a picture asks for, at an hour. */
export function hintsFor(wanted: WantedHours, hour: HourAtPlant): string[] {
  const hints: string[] = [];
  if (wanted.opens === 'needs sun' && wanted.light === 'soft') {
    hints.push(
      'The flower opens in sun alone and soft light is asked for: look for thin high cloud, or shade it once it is open.',
    );
  }
  if (wanted.drops === 'wanted' && wanted.light === 'soft') {
    hints.push(
      'Clear nights give dew and overcast ones mostly none: look for cloud or mist that comes after sunrise.',
    );
  }
  const wait = hour.lull.expectedWaitS;
  if (wanted.stillness === 'still' && wait !== null && wait >= longWaitS) {
    hints.push(`The plant is still only now and then: expect to wait about ${inMinutes(wait)} for it.`);
  }
  return hints;
}

function inMinutes(seconds: number): string {
  const minutes = Math.round(seconds / 60);
  return minutes <= 1 ? 'a minute' : minutes < 60 ? `${minutes} minutes` : 'an hour or more';
}

/** Sun lower than this makes a way dark under trees [°]; civil twilight ends at -6. Ours. */
const duskDeg = 2;

/** Sentences about the way there and the way back: in the dark before sunrise and after sunset. */
export function onTheWay(hours: readonly HourAtPlant[], first: number, last: number): string[] {
  const begin = hours[first]!.sun;
  const end = (hours[last + 1] ?? hours[last])!.sun;
  const hints: string[] = [];
  if (begin.altitudeDeg < duskDeg && begin.solarTimeH < 12) hints.push('The way there is in the dark.');
  if (end.altitudeDeg < duskDeg && end.solarTimeH >= 12) {
    hints.push('The way back may be in the dark: take a lamp, and tell someone where you are.');
  }
  return hints;
}
