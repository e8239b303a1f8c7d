/** Walking the computer's folders to the photographs, by keyboard, by thumb, or by typing the path. */
import { useSignal } from '@preact/signals';
import type { FolderListing } from '@tepal/formats';
import { useEffect, useRef } from 'preact/hooks';
import { askedFrom, asking, engineOf, type Asked } from '../engine/engine.ts';
import { counted } from '../words/amounts.ts';
import { addressOf } from './address.ts';
import { goTo } from './navigate.ts';

const lookInto = (path: string) => goTo(`/?folder=${encodeURIComponent(path)}`);

export function FolderChooser({ path }: { path: string }) {
  const listing = useSignal<Asked<FolderListing>>(asking);
  const typed = useSignal(path);
  const fault = useSignal<string | null>(null);
  const beginning = useSignal(false);
  const heading = useRef<HTMLHeadingElement>(null);

  useEffect(() => {
    let current = true;
    fault.value = null;
    void engineOf('mine')
      .folders(path === '' ? undefined : path)
      .then((answer) => {
        if (!current) return;
        // A path that cannot be read leaves the folders last seen in view, with the sentence above them.
        if (!answer.ok && listing.value.at === 'here') fault.value = answer.fault.message;
        else listing.value = askedFrom(answer);
        if (answer.ok) typed.value = answer.value.path;
        heading.current?.focus();
      });
    return () => {
      current = false;
    };
  }, [path]);

  const measure = async (folder: string) => {
    beginning.value = true;
    const answer = await engineOf('mine').measure(folder);
    beginning.value = false;
    if (answer.ok) goTo(addressOf('mine', 'frames'));
    else fault.value = answer.fault.message;
  };

  if (listing.value.at === 'asking') return <h1>Looking for your photographs.</h1>;
  const here = listing.value.at === 'here' ? listing.value.value : null;
  const fell = fault.value ?? (listing.value.at === 'fault' ? listing.value.message : null);
  return (
    <>
      <h1 ref={heading} tabIndex={-1}>
        {here === null ? 'This folder cannot be read.' : answerWords(here)}
      </h1>
      <p class="faint">Originals are only read. Everything below the folder is measured with it.</p>
      {fell !== null && (
        <p class="told" role="alert">
          {fell}
        </p>
      )}
      {here !== null && (
        <div class="buttons">
          <button
            class="first"
            disabled={here.photographsBelow === 0 || beginning.value}
            onClick={() => void measure(here.path)}
          >
            {here.photographsBelow === 0
              ? 'No photographs to measure here'
              : `Measure ${here.photographsBelow === 1 ? 'this photograph' : `these ${here.photographsBelow.toLocaleString('en-GB')} photographs`}`}
          </button>
          <a class="button" href="/">
            Back
          </a>
        </div>
      )}
      <section class="folders" aria-label="Folders">
        <nav aria-label="Places where photographs usually are">
          <h2>Places</h2>
          <ul>
            {(here?.places ?? []).map((place) => (
              <li key={place.path}>
                <button
                  class="row-button"
                  aria-current={place.path === here?.path ? 'true' : undefined}
                  onClick={() => lookInto(place.path)}
                >
                  {place.name}
                </button>
              </li>
            ))}
          </ul>
        </nav>
        <div>
          <form
            class="field"
            onSubmit={(event) => {
              event.preventDefault();
              lookInto(typed.value.trim());
            }}
          >
            <label for="path">Path of the folder; type another and press Enter</label>
            <input
              id="path"
              value={typed.value}
              onInput={(event) => (typed.value = event.currentTarget.value)}
              autocomplete="off"
              spellcheck={false}
            />
          </form>
          <ul class="folder-list" aria-label="Folders inside">
            {here !== null && here.parent !== null && (
              <li>
                <button class="row-button" onClick={() => lookInto(here.parent ?? '')}>
                  Up to {here.parent}
                </button>
              </li>
            )}
            {(here?.folders ?? []).map((folder) => (
              <li key={folder.path}>
                <button class="row-button" onClick={() => lookInto(folder.path)}>
                  {folder.name}
                </button>
              </li>
            ))}
          </ul>
          {here !== null && here.folders.length === 0 && <p class="faint">No folders inside.</p>}
        </div>
      </section>
    </>
  );
}

function answerWords({ path, photographsHere, photographsBelow }: FolderListing): string {
  const name = path.split(/[\\/]/).findLast((part) => part !== '') ?? path;
  if (photographsBelow === 0) return `There are no photographs in ${name}. Choose a folder that holds some.`;
  const elsewhere = photographsBelow - photographsHere;
  if (elsewhere === 0) return `${counted(photographsHere, 'photograph')} in ${name}.`;
  if (photographsHere === 0)
    return `${counted(photographsBelow, 'photograph')} in the folders below ${name}.`;
  return `${counted(photographsHere, 'photograph')} in ${name}, and ${elsewhere.toLocaleString('en-GB')} in the folders below it.`;
}
