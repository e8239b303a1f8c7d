/** What was the same all through the outing, said once: site, lens, how the camera was held. */
import { useComputed, useSignal } from '@preact/signals';
import type { OutingSetUp, StoreName } from '@tepal/formats';
import { engineOf } from '../engine/engine.ts';
import { notebookOf, readNotebook } from '../field/notebook.ts';
import type { Choosing } from './choosing.ts';

const supports = ['tripod', 'beanbag', 'elbows', 'kneeling', 'standing'] as const;

export function OutingForm({ store, choosing }: { store: StoreName; choosing: Choosing }) {
  const fault = useSignal<string | null>(null);
  const kept = useComputed(() => {
    const open = notebookOf(store).value;
    if (open === null) return { sites: [], lenses: [] };
    const { room, notebook } = open;
    return {
      sites: room.list(notebook, 'site'),
      lenses: room.list(notebook, 'kit').filter(({ part }) => part === 'lens'),
    };
  }).value;
  const said = choosing.frames.value?.outing;
  if (said === undefined) return null;
  const say = async (change: Partial<OutingSetUp>) => {
    const answer = await engineOf(store).setOuting({ ...said, ...change });
    fault.value = answer.ok ? null : answer.fault.message;
    if (answer.ok) choosing.frames.value = answer.value;
  };
  const fields = [
    { of: 'support', label: 'Held', options: supports.map((word) => ({ id: word, name: word })) },
    { of: 'lensId', label: 'Lens', options: kept.lenses },
    { of: 'siteId', label: 'Site', options: kept.sites },
  ] as const;
  return (
    <details
      class="outing-said"
      onToggle={(event) => {
        if (event.currentTarget.open) void readNotebook(store).then((told) => (fault.value = told));
      }}
    >
      <summary>
        {said.support === null
          ? 'Say how the camera was held, with which lens, where'
          : `Camera held: ${said.support}`}
      </summary>
      <div class="fields">
        {fields.map(({ of, label, options }) => (
          <label key={of}>
            {label}
            <select
              value={said[of] ?? ''}
              onChange={(event) => {
                const { value } = event.currentTarget;
                void say({ [of]: value === '' ? null : value });
              }}
            >
              <option value="">not said</option>
              {options.map((one) => (
                <option key={one.id} value={one.id}>
                  {one.name}
                </option>
              ))}
            </select>
          </label>
        ))}
      </div>
      {fault.value !== null && <p class="told">{fault.value}</p>}
    </details>
  );
}
