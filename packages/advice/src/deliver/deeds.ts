/** What was done to a picture, as a plain list in words. */
import type { Deed, DeedKind, FinishStepsDocument } from '@tepal/formats';

const has = (value: object | undefined) => value !== undefined;

/** The list that a file of steps comes to; a step that changes nothing is not in it. */
export function deedsOfSteps(steps: FinishStepsDocument): readonly Deed[] {
  const deeds: Deed[] = [];
  const add = (deed: DeedKind, words: string) => deeds.push({ deed, words });
  const { whiteBalance, exposureStops = 0, noise, spots = [], framing, fillShade, background, tone } = steps;
  if (noise !== undefined && noise.grain + noise.colour > 0) add('noise', 'noise taken away');
  if (spots.length > 0) {
    add('spotRemoved', spots.length === 1 ? 'one spot removed' : `${spots.length} spots removed`);
  }
  if (whiteBalance?.kind === 'daylight')
    add('whiteBalance', `white set for daylight of ${whiteBalance.temperatureK} K`);
  if (whiteBalance?.kind === 'greyPatch') add('whiteBalance', 'white set from a grey patch');
  if (exposureStops !== 0) {
    add(
      'exposure',
      `exposure ${exposureStops > 0 ? 'raised' : 'lowered'} by ${shortNumber(Math.abs(exposureStops))} stops`,
    );
  }
  if ((framing?.levelDeg ?? 0) !== 0)
    add('level', `levelled by ${shortNumber(Math.abs(framing?.levelDeg ?? 0))}°`);
  const crop = framing?.crop;
  if (crop !== undefined && crop.width * crop.height < 1) {
    add('crop', `cropped to ${Math.round(100 * crop.width * crop.height)} % of the picture`);
  }
  if ((fillShade?.stops ?? 0) > 0)
    add('shadeFilled', `shaded parts filled by up to ${shortNumber(fillShade?.stops ?? 0)} stops`);
  if (
    background !== undefined &&
    background.calm + (background.darkerStops ?? 0) + (background.paler ?? 0) > 0
  ) {
    add('backgroundQuietened', 'background quietened: its tones evened, nothing removed');
  }
  const toned =
    tone !== undefined &&
    ((tone.contrast ?? 1) !== 1 || ((tone.shoulderFrom ?? 1) < 1 && (tone.headroomStops ?? 0) > 0));
  if (toned) add('tone', 'tones set');
  if (has(steps.petals) && (steps.petals?.ease ?? 0) > 0)
    add('petalColour', 'saturated colours eased into the space');
  if ((steps.sharpening?.strength ?? 0) > 0) add('sharpening', 'sharpened for its size');
  return deeds;
}

/** The entry of the list for a picture blended from several frames. */
export function stackedFrom(frames: number): Deed {
  return { deed: 'stacked', words: `blended from ${frames} frames at different focus` };
}

const shortNumber = (value: number) => String(Math.round(value * 100) / 100);

/** The list as one line; "nothing but developing" where it is empty. */
export function doneInWords(deeds: readonly Deed[]): string {
  return deeds.length === 0 ? 'nothing but developing' : deeds.map(({ words }) => words).join('; ');
}
