/** What stands round every page: the house's name, the five pages, and on what the page rests. */
import { computed } from '@preact/signals';
import { networkWords } from '../field/offline.ts';
import { addressOf, pageNames, pageTitles } from './address.ts';
import { address } from './navigate.ts';
import { PageHere } from './page-here.tsx';
import { pageLight, pageLightWords, turnLight } from './page-light.ts';
import { standing } from './standing.ts';

const standingWords = computed(() => [standing.value, networkWords.value].filter(Boolean).join(' · '));

export function Shell() {
  const { store, page } = address.value;
  return (
    <div class="sheet">
      <a class="skip" href="#main">
        To the page
      </a>
      <header class="head">
        <a class="house" href="/">
          Tepal
        </a>
        {store === 'invented' && <span class="invented">Invented outing</span>}
        <nav class="pages" aria-label="Pages">
          <ul>
            {pageNames.map((name) => (
              <li key={name}>
                <a href={addressOf(store, name)} aria-current={name === page ? 'page' : undefined}>
                  {pageTitles[name]}
                </a>
              </li>
            ))}
          </ul>
        </nav>
        <span class="standing">{standingWords}</span>
        <button class="quiet light" onClick={turnLight} title="Paper, bright sun, dark">
          <span class="unseen">The page is drawn to be read </span>
          {pageLightWords[pageLight.value]}
        </button>
      </header>
      <main id="main" tabIndex={-1}>
        <PageHere key={`${store} ${page}`} />
      </main>
    </div>
  );
}
