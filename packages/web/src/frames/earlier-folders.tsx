/** The other folders that were measured: one press shows one again, nothing is measured anew. */
import type { FramesAnswer } from '@tepal/formats';
import { counted } from '../words/amounts.ts';

export function EarlierFolders(seen: {
  readonly answer: FramesAnswer;
  readonly open: (path: string) => Promise<void>;
}) {
  const { answer, open } = seen;
  const others = answer.folders.filter(({ path, frameCount }) => path !== answer.folder && frameCount > 0);
  if (others.length === 0) return null;
  return (
    <section class="earlier" aria-labelledby="earlier-folders">
      <h2 id="earlier-folders">Other folders that came home</h2>
      <ul>
        {others.map(({ path, frameCount, measuredAt }) => (
          <li key={path}>
            <button class="quiet" onClick={() => void open(path)}>
              {path.split(/[\\/]/).findLast((part) => part !== '') ?? path}
            </button>{' '}
            <span class="faint small">
              {[counted(frameCount, 'frame'), measuredAt && `measured ${measuredAt.slice(0, 10)}`, path]
                .filter(Boolean)
                .join(' · ')}
            </span>
          </li>
        ))}
      </ul>
    </section>
  );
}
