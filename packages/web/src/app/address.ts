/**
 * Every page has an address of its own: `/days` speaks of the photographer's own store, `/invented/days` of the
 * invented outing. What a page shows beyond that (which frames, which picture) stands after the question mark.
 */
import type { StoreName } from '@tepal/formats';

export const pageNames = ['days', 'set-up', 'frames', 'picture', 'records'] as const;
export type PageName = (typeof pageNames)[number];

/** The words by which the pages are called in the header, in the order of the job. */
export const pageTitles: Readonly<Record<PageName, string>> = {
  days: 'Days',
  'set-up': 'Set-up',
  frames: 'Frames',
  picture: 'Picture',
  records: 'Records',
};

export interface Address {
  readonly store: StoreName;
  readonly page: PageName | 'first' | 'unknown';
  readonly query: URLSearchParams;
}

/**
 * What an address asks for.
 *
 * @param pathname path of the address, beginning with a slash
 * @param search what follows, from the question mark on, or ''
 * @returns the store and page; `unknown` where no page has that address
 */
export function readAddress(pathname: string, search: string): Address {
  const query = new URLSearchParams(search);
  const parts = pathname.split('/').filter((part) => part !== '');
  const store: StoreName = parts[0] === 'invented' ? 'invented' : 'mine';
  const rest = store === 'invented' ? parts.slice(1) : parts;
  const named = pageNames.find((name) => name === rest[0]);
  if (named !== undefined && rest.length === 1) return { store, page: named, query };
  if (rest.length > 0) return { store, page: 'unknown', query };
  // The invented outing begins where the job begins.
  return { store, page: store === 'invented' ? 'days' : 'first', query };
}

/**
 * The address of a page.
 *
 * @param store whose page
 * @param page which page
 * @param query what it shows beyond that
 * @returns a path from the root, `/invented/frames?beside=…`
 */
export function addressOf(
  store: StoreName,
  page: PageName,
  query: Readonly<Record<string, string>> = {},
): string {
  const path = store === 'invented' ? `/invented/${page}` : `/${page}`;
  const asked = new URLSearchParams(query).toString();
  return asked === '' ? path : `${path}?${asked}`;
}
