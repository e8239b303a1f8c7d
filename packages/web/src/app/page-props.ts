import type { StoreName } from '@tepal/formats';

/** What every page is given: whose store it shows, and what its address says beyond that. */
export interface PageProps {
  readonly store: StoreName;
  readonly query: URLSearchParams;
}
