/** What was just written, and the way to take it back. */
import { useSignal, type Signal } from '@preact/signals';
import { undoLast } from '../../field/notebook.ts';
import { workOut } from '../compute/days-here.ts';

export function ToldAndUndo({ told }: { told: Signal<string | null> }) {
  const fault = useSignal<string | null>(null);
  if (told.value === null) return null;
  const undo = async () => {
    fault.value = await undoLast();
    if (fault.value !== null) return;
    told.value = null;
    void workOut('mine');
  };
  return (
    <p class="told" role="status">
      {told.value}{' '}
      <button class="quiet" onClick={() => void undo()}>
        Take it back
      </button>
      {fault.value !== null && <span role="alert"> {fault.value}</span>}
    </p>
  );
}
