/**
 * The reminder when an outing is started, not when one already lies down. Common practice of botanical societies and
 * nature photographers, no single source; the law of the land and the site's rules come first.
 */
import type { OpenNotebook } from '../field/notebook.ts';

export interface Care {
  /** What to do for the plants, the strictest first. */
  readonly forPlants: readonly string[];
  readonly forYou: readonly string[];
}

/** How careful the site's subjects ask one to be. */
export type Strictness = 'usual' | 'rare' | 'veryRare';

const usual = [
  'Stay on the path, or on bare or mown ground, and look for seedlings before you kneel or put anything down.',
  'Cut nothing, pull nothing, bend nothing aside that does not go back by itself; leave everything in its place.',
];

const stricter: Readonly<Record<Strictness, readonly string[]>> = {
  usual: [],
  rare: [
    'Something rare grows here: go alone or in turns, in the steps you came by, and leave no trampled ring to show the way.',
  ],
  veryRare: [
    'Something very rare grows here. Keep to the path even if the picture is lost; if you cannot reach it from there, do not.',
    'It may not be disturbed without a licence in many countries; ask before you go near. Tell nobody where it stands.',
  ],
};

const forYou = [
  'Look for ticks afterwards; mind heat, cold and storms, and leave in good time.',
  'If you are alone, tell someone where you are and when you will be back.',
];

/** The sentences for a site. */
export const careFor = (strictness: Strictness): Care => ({
  forPlants: [...stricter[strictness], ...usual],
  forYou,
});

/**
 * How strict a site asks one to be, by the most sensitive of the subjects that are wanted or were recorded there.
 * A species that nobody was asked about counts as rare.
 */
export function strictnessAt({ room, notebook }: OpenNotebook, siteId: string | null): Strictness {
  if (siteId === null) return 'usual';
  const there = [
    ...room.list(notebook, 'wantedPicture').filter((wanted) => wanted.siteId === siteId),
    ...room.list(notebook, 'record').filter((record) => record.siteId === siteId),
  ];
  const levels = there.map(({ subjectId }) =>
    subjectId === null ? null : (room.find(notebook, 'subject', subjectId)?.sensitivity ?? null),
  );
  if (levels.some((level) => level === 'high' || level === 'extreme')) return 'veryRare';
  return levels.some((level) => level !== 'none' && level !== 'low') ? 'rare' : 'usual';
}
