/** Backup in one press, restore, and a check of the library. */
import type { LibraryChecked, PutBack } from '@tepal/formats';
import { saveNotebook } from '@tepal/notebook';
import type { FastifyInstance } from 'fastify';
import { backupOf } from '../../keep/backup.ts';
import { checkLibrary } from '../../keep/check-library.ts';
import { readBackup, restoreChoices } from '../../keep/restore.ts';
import type { Engine } from '../engine-parts.ts';
import { bytesOf } from './requests.ts';

export function keepingRoutes(server: FastifyInstance, engine: Engine): void {
  const { mine } = engine.stores;
  server.get('/api/mine/backup.zip', async (_request, reply) => {
    const { bytes } = backupOf(await mine.notebook(), mine.library, Date.now());
    return reply
      .type('application/zip')
      .header('content-disposition', 'attachment; filename="tepal-backup.zip"')
      .send(Buffer.from(bytes));
  });

  server.post('/api/mine/backup', async (request): Promise<PutBack> => {
    const backup = readBackup(bytesOf(request.body), 'That file');
    await mine.mergeNotebook(saveNotebook(backup.notebook));
    const counts = Object.values(restoreChoices(backup, mine.library));
    const sum = (of: 'putBack' | 'kept') => counts.reduce((all, one) => all + one[of], 0);
    return { madeAt: backup.madeAt, putBack: sum('putBack'), kept: sum('kept') };
  });

  server.get('/api/mine/check', (): Promise<LibraryChecked> => checkLibrary(mine.library, { deep: false }));
}
