/** The answer across all sites, from each site's document. */
import {
  rankAcrossSites,
  seasonOfSubject,
  type KeptForWhen,
  type SubjectSeen,
  type WhenAnswer,
} from '@tepal/advice';
import type { Site } from '@tepal/notebook';
import { offsetOf } from '../day-split.ts';
import type { Overview, PlacedWindow, SiteSummary, SubjectSeason } from './worker-messages.ts';

/** More than this nobody reads; the count says how many there are. */
const mostWindows = 60;

export interface SiteAnswer {
  readonly site: Site;
  /** Null where there is no forecast. */
  readonly when: WhenAnswer | null;
  readonly fault: string | null;
}

export function overviewOf(
  answers: readonly SiteAnswer[],
  kept: KeptForWhen,
  at: {
    readonly nowMs: number;
    readonly sightings: readonly SubjectSeen[];
    readonly engineAnswered: boolean;
  },
): Overview {
  const known = answers.flatMap(({ site, when }) => (when === null ? [] : [{ site, when }]));
  const across = rankAcrossSites(known.map(({ when }) => when));
  const byId = new Map(
    known.map(({ site, when }) => [site.id, { siteName: site.name, offsetMin: offsetOf(when) }]),
  );
  const placed = <T extends { readonly site: string }>(one: T) => ({
    ...one,
    ...(byId.get(one.site) ?? { siteName: '', offsetMin: 0 }),
  });
  const windows: PlacedWindow[] = across.windows.map(placed);
  const best = new Map<string, PlacedWindow>();
  for (const window of windows) if (!best.has(window.site)) best.set(window.site, window);
  return {
    sites: answers.map((answer) => summaryOf(answer, best.get(answer.site.id) ?? null)),
    windows: windows.slice(0, mostWindows),
    windowCount: windows.length,
    misses: across.misses.map(placed),
    seasons: seasonsOf(kept, best, at),
    madeAtMs: at.nowMs,
    engineAnswered: at.engineAnswered,
  };
}

function summaryOf({ site, when, fault }: SiteAnswer, best: PlacedWindow | null): SiteSummary {
  const last = when?.hours.at(-1);
  return {
    siteId: site.id,
    siteName: site.name,
    forecast: when?.forecast ?? null,
    untilMs: last === undefined ? 0 : Date.parse(last.time),
    offsetMin: when === null ? 0 : offsetOf(when),
    here: when?.here ?? null,
    best,
    cautions: [...(when?.cautions ?? []), ...site.cautions],
    fault,
  };
}

/** The season of every subject that a picture is still wanted of, at the site that suits it best. */
function seasonsOf(
  kept: KeptForWhen,
  best: ReadonlyMap<string, PlacedWindow>,
  { nowMs, sightings }: { readonly nowMs: number; readonly sightings: readonly SubjectSeen[] },
): readonly SubjectSeason[] {
  const open = kept.wantedPictures.filter(({ closedBy }) => closedBy === null);
  return kept.subjects.flatMap((subject): SubjectSeason[] => {
    const wanted = open.filter(({ subjectId }) => subjectId === subject.id);
    if (wanted.length === 0) return [];
    const own = wanted.map(({ siteId }) => siteId).find((siteId) => siteId !== null);
    const suited = [...best.values()].find(({ wanted: id }) => wanted.some((one) => one.id === id))?.site;
    const site = kept.sites.find(({ id }) => id === (own ?? suited)) ?? kept.sites[0];
    if (site === undefined) return [];
    const season = seasonOfSubject(subject, site, kept, { nowMs, sightings });
    if (season.kind === 'unknown') return [];
    return [
      {
        subjectId: subject.id,
        name: subject.commonNames['en'] ?? subject.scientificName,
        siteName: site.name,
        curve: season.curve.value.filter((_, day) => day % 5 === 0),
        peak: season.kind === 'records' ? { day: season.peakDay, bandDays: season.peakBandDays } : null,
        sentences: season.sentences,
      },
    ];
  });
}
