/** A wanted picture, and its subject, as their form says them. */
import type { Subject, WantedPicture } from '@tepal/notebook';
import { textOf, typedNumbers } from '../places/typed-number.ts';

/** What each choice means, in the words of the form. */
export const LIGHT_MEANINGS = {
  soft: 'soft light',
  any: 'any light',
  sun: 'sun on it',
} as const satisfies Record<WantedPicture['light'], string>;

export const STILLNESS_MEANINGS = {
  still: 'still: hardly any air',
  stirring: 'may stir',
  nodding: 'may nod',
} as const satisfies Record<WantedPicture['stillness'], string>;

export const DROPS_MEANINGS = {
  wanted: 'with drops',
  none: 'dry',
  any: 'either',
} as const satisfies Record<WantedPicture['drops'], string>;

export const INSECT_MEANINGS = {
  '': 'none in it',
  torpid: 'one too cool to fly',
  basking: 'one that basks',
  any: 'any insect',
} as const satisfies Record<NonNullable<WantedPicture['insects']> | '', string>;

export const OPENS_MEANINGS = {
  any: 'always, or not known',
  'needs sun': 'in sun',
  morning: 'in the morning',
  'shut by noon': 'shut by noon',
} as const satisfies Record<Subject['opens'], string>;

export const SENSITIVITY_MEANINGS = {
  '': 'not asked yet: its places are kept as for a rare one',
  none: 'none: common, nobody digs it up',
  low: 'some',
  medium: 'more',
  high: 'much',
  extreme: 'very much: not even its name leaves',
} as const satisfies Record<NonNullable<Subject['sensitivity']> | '', string>;

/** The value in `choices` that a form holds under a name. */
export function chosen<K extends string>(
  data: FormData,
  name: string,
  choices: Readonly<Record<K, string>>,
  otherwise: K,
): K {
  const text = textOf(data, name);
  return (Object.keys(choices) as K[]).find((choice) => choice === text) ?? otherwise;
}

export type Read<T> =
  { readonly ok: true; readonly value: T } | { readonly ok: false; readonly message: string };

/** The subject that the form describes; fields that it does not hold stay as they were. */
export function subjectOfForm(data: FormData, id: string, before: Subject | null): Read<Subject> {
  const read = typedNumbers(data, {
    subjectHeightCm: 'height of the flower in cm',
    subjectSizeMm: 'size in mm',
    subjectDepthMm: 'depth in mm',
  });
  if (!read.ok) return read;
  const { subjectHeightCm, subjectSizeMm, subjectDepthMm } = read.values;
  const common = textOf(data, 'commonName');
  const scientific = textOf(data, 'scientificName');
  if (scientific === '' && common === '') return { ok: false, message: 'Name the subject.' };
  const stem = textOf(data, 'stem');
  const sensitivity = chosen(data, 'sensitivity', SENSITIVITY_MEANINGS, '');
  return {
    ok: true,
    value: {
      ...(before ?? { sway: null, notes: '' }),
      id,
      scientificName: scientific === '' ? common : scientific,
      commonNames: { ...before?.commonNames, ...(common === '' ? {} : { en: common }) },
      heightAboveGroundM: subjectHeightCm === null ? null : subjectHeightCm / 100,
      sizeMm: subjectSizeMm,
      depthMm: subjectDepthMm,
      stem: stem === 'stiff' || stem === 'medium' || stem === 'wand' ? stem : null,
      opens: chosen(data, 'opens', OPENS_MEANINGS, 'any'),
      months: data.getAll('month').map(Number),
      sensitivity: sensitivity === '' ? null : sensitivity,
    },
  };
}

/** The picture that the form describes. */
export function wantedOfForm(
  data: FormData,
  {
    id,
    subjectId,
    before,
  }: { readonly id: string; readonly subjectId: string; readonly before: WantedPicture | null },
): WantedPicture {
  const site = textOf(data, 'site');
  const insects = chosen(data, 'insects', INSECT_MEANINGS, '');
  return {
    ...(before ?? { magnification: null, notes: '', closedBy: null }),
    ...{ id, subjectId },
    siteId: site === '' ? null : site,
    title: textOf(data, 'title'),
    framing: textOf(data, 'framing'),
    light: chosen(data, 'light', LIGHT_MEANINGS, 'soft'),
    stillness: chosen(data, 'stillness', STILLNESS_MEANINGS, 'stirring'),
    drops: chosen(data, 'drops', DROPS_MEANINGS, 'any'),
    insects: insects === '' ? null : insects,
  };
}
