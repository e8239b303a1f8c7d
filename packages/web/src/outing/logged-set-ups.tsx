/** What was logged in this outing, and its notes, newest first. */
import type { StoreName } from '@tepal/formats';
import type { Outing } from '@tepal/notebook';
import { notebookOf } from '../field/notebook.ts';
import { nearestMark } from '../set-up/question/steps.ts';
import { apertureWords, ratioWords, shutterWords } from '../words/amounts.ts';
import { clockWords, readersOffsetMin } from '../words/clock.ts';

export function LoggedSetUps({ store, outing }: { store: StoreName; outing: Outing }) {
  const open = notebookOf(store).value;
  if (open === null) return null;
  const logged = open.room
    .list(open.notebook, 'setUp')
    .filter(({ outingId }) => outingId === outing.id)
    .toSorted((a, b) => Date.parse(b.at) - Date.parse(a.at));
  const lines = outing.notes.split('\n').filter((line) => line !== '');
  if (logged.length + lines.length === 0) return null;
  return (
    <ul class="list logged">
      {logged.map(({ id, at, exposure, magnification, position }) => (
        <li key={id}>
          {clockWords(Date.parse(at), readersOffsetMin(Date.parse(at)))}
          {exposure === null
            ? ''
            : ` ${apertureWords(exposure.fNumber)}, ${shutterWords(nearestMark.timeS(exposure.exposureTimeS))}, ISO ${exposure.iso}`}
          {magnification === null ? '' : `, ${ratioWords(magnification)}`}
          {position === null ? ', no position' : ''}
        </li>
      ))}
      {lines.toReversed().map((line, index) => (
        <li key={`${index} ${line}`}>{line}</li>
      ))}
    </ul>
  );
}
