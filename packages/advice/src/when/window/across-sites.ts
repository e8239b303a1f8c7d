/** Windows of several sites over several days, the best first. */
import { parseInstantMs } from '@tepal/formats';
import type { FoundMiss, FoundWindow } from './windows.ts';

/** Lead up to which a forecast is taken at its word [h], and how little of it is left at the tenth day. Ours. */
const trustedLeadH = 48;
const tenDaysH = 240;
const leastTrust = 0.3;

/** What of a suitability is left at a lead: the rest is as good as even chance. */
function trusted(suitability: number, leadH: number | null): number {
  const beyond = Math.max(0, (leadH ?? trustedLeadH) - trustedLeadH) / (tenDaysH - trustedLeadH);
  const trust = Math.max(leastTrust, 1 - (1 - leastTrust) * beyond);
  return 0.5 + (suitability - 0.5) * trust;
}

/** What one site's document brings into the ranking. */
export interface SiteWindows {
  readonly windows: readonly FoundWindow[];
  readonly misses: readonly FoundMiss[];
}

export interface RankedWindow extends FoundWindow {
  /** 1 for the best. */
  readonly rank: number;
  /** The suitability with the forecast's age and reach taken into account: what the rank goes by [0..1]. */
  readonly trusted: number;
}

/** The windows of all sites, ranked, and what no site gives. */
export interface AcrossSites {
  readonly windows: RankedWindow[];
  /** For each wanted picture that has a window nowhere: the miss of the site that came nearest. */
  readonly misses: FoundMiss[];
}

/**
 * Ranks the windows of several sites: by suitability, less sure the farther ahead; then the longer; then the sooner.
 *
 * @param sites what `findWindows` or `whenDocument` gave for each
 */
export function rankAcrossSites(sites: readonly SiteWindows[]): AcrossSites {
  const windows = sites
    .flatMap((site) => site.windows)
    .map((window) => ({ ...window, trusted: trusted(window.suitability, window.leadH) }))
    .sort(
      (one, other) =>
        other.trusted - one.trusted || lengthMs(other) - lengthMs(one) || startMs(one) - startMs(other),
    );
  const found = new Set(windows.map(({ wanted }) => wanted));
  const nearest = new Map<string, FoundMiss>();
  for (const miss of sites.flatMap((site) => site.misses)) {
    if (found.has(miss.wanted)) continue;
    const known = nearest.get(miss.wanted);
    if (known === undefined || miss.value > known.value) nearest.set(miss.wanted, miss);
  }
  return { windows: windows.map((window, i) => ({ ...window, rank: i + 1 })), misses: [...nearest.values()] };
}

const startMs = ({ from }: FoundWindow) => parseInstantMs(from) ?? 0;
const lengthMs = ({ from, to }: FoundWindow) => (parseInstantMs(to) ?? 0) - (parseInstantMs(from) ?? 0);
