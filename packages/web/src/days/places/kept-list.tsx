/** What is kept of one kind, a line each: found by typing where there are many, opened to be edited one at a time. */
import { useSignal, type Signal } from '@preact/signals';
import type { ComponentChildren } from 'preact';

/** More than this are found by typing, or asked for. */
const many = 12;

export function KeptList<T extends { readonly id: string }>(props: {
  things: readonly T[];
  /** The one that is open; null for none. */
  editing: Signal<string | null>;
  nameOf: (thing: T) => string;
  /** What its line says beside the name. */
  aboutOf: (thing: T) => string;
  open: (thing: T) => ComponentChildren;
}) {
  const { things, editing, nameOf, aboutOf, open } = props;
  const sought = useSignal('');
  const all = useSignal(false);
  const words = sought.value.trim().toLowerCase();
  const found = things.filter((thing) => `${nameOf(thing)} ${aboutOf(thing)}`.toLowerCase().includes(words));
  const shown = all.value ? found : found.slice(0, many);
  if (things.length === 0) return null;
  return (
    <>
      {things.length > many && (
        <div class="field seek">
          <label>
            Find among {things.length}
            <input
              autocomplete="off"
              value={sought.value}
              onInput={(event) => (sought.value = event.currentTarget.value)}
            />
          </label>
        </div>
      )}
      <ul class="list places-list">
        {shown.map((thing) => {
          const isOpen = editing.value === thing.id;
          return (
            <li key={thing.id}>
              <div class="place-row">
                <span class="place-name">{nameOf(thing)}</span>
                <span class="faint small">{aboutOf(thing)}</span>
                <button
                  class="quiet"
                  aria-expanded={isOpen}
                  onClick={() => (editing.value = isOpen ? null : thing.id)}
                >
                  {isOpen ? 'Close' : 'Edit'}
                  <span class="unseen"> {nameOf(thing)}</span>
                </button>
              </div>
              {isOpen && <div class="place-open">{open(thing)}</div>}
            </li>
          );
        })}
      </ul>
      {found.length > shown.length && (
        <button class="quiet" onClick={() => (all.value = true)}>
          All {found.length}
        </button>
      )}
    </>
  );
}
