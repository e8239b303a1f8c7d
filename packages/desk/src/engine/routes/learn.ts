/** What was measured on this computer, put into the notebook as evidence; what follows from it the pages work out. */
import type { EvidenceGathered } from '@tepal/formats';
import type { FastifyInstance } from 'fastify';
import { takeEvidence } from '../../library/evidence.ts';
import type { Engine } from '../engine-parts.ts';

export function learnRoutes(server: FastifyInstance, engine: Engine): void {
  server.post('/api/mine/evidence', async (): Promise<EvidenceGathered> => {
    const { mine } = engine.stores;
    const { notebook, frames, fresh } = takeEvidence(await mine.notebook(), mine.library, Date.now());
    await mine.saveNotebook(notebook);
    return { frames, fresh };
  });
}
