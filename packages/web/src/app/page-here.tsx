/** The page that the address asks for; its script is fetched when it is first looked at. */
import { useSignal } from '@preact/signals';
import type { ComponentType } from 'preact';
import { useEffect } from 'preact/hooks';
import { pageTitles, type PageName } from './address.ts';
import { FirstScreen } from './first-screen.tsx';
import { address } from './navigate.ts';
import type { PageProps } from './page-props.ts';
import { standing } from './standing.ts';

type Page = ComponentType<PageProps>;

const scripts: Readonly<Record<PageName, () => Promise<Page>>> = {
  days: async () => (await import('../days/days-page.tsx')).DaysPage,
  'set-up': async () => (await import('../set-up/set-up-page.tsx')).SetUpPage,
  frames: async () => (await import('../frames/frames-page.tsx')).FramesPage,
  picture: async () => (await import('../picture/picture-page.tsx')).PicturePage,
  records: async () => (await import('../records/records-page.tsx')).RecordsPage,
};

export function PageHere() {
  const { store, page, query } = address.value;
  useEffect(() => {
    standing.value = '';
    const title = page === 'first' || page === 'unknown' ? 'Tepal' : `${pageTitles[page]}, Tepal`;
    document.title = store === 'invented' ? `${title} (invented outing)` : title;
  }, [store, page]);
  if (page === 'first') return <FirstScreen query={query} />;
  if (page === 'unknown') return <Unknown />;
  return <Fetched key={page} page={page} store={store} query={query} />;
}

function Fetched({ page, store, query }: PageProps & { page: PageName }) {
  const script = useSignal<{ Page: Page } | 'fetching' | 'failed'>('fetching');
  useEffect(() => {
    scripts[page]().then(
      (Page) => (script.value = { Page }),
      () => (script.value = 'failed'),
    );
  }, [page]);
  if (script.value === 'fetching') return null;
  if (script.value === 'failed') {
    return (
      <>
        <h1>{pageTitles[page]} needs the computer at home.</h1>
        <p class="faint">Days and Set-up are kept for use without it. Reload once it answers again.</p>
      </>
    );
  }
  const { Page } = script.value;
  return <Page store={store} query={query} />;
}

function Unknown() {
  return (
    <>
      <h1>There is no page at this address.</h1>
      <p class="faint">
        The five pages stand above; <a href="/">begin at the first screen</a>.
      </p>
    </>
  );
}
