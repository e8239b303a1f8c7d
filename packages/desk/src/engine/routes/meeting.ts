/** The desk's own page on meeting phones: open, shut, a code, and who was let in. */
import type { FastifyInstance } from 'fastify';
import type { Meeting } from '../../meeting/meeting.ts';
import { EngineRefusal } from '../guard.ts';
import { bodyOf, idOf } from './requests.ts';

export function meetingRoutes(server: FastifyInstance, meeting: Meeting): void {
  server.get('/api/meeting', () => meeting.state());
  server.put('/api/meeting', (request) => {
    const { listening } = bodyOf(request.body);
    if (typeof listening !== 'boolean') {
      throw new EngineRefusal(400, `expected true or false for listening but received ${String(listening)}.`);
    }
    return listening ? meeting.open() : meeting.shut();
  });
  server.post('/api/meeting/code', () => meeting.newCode());
  server.delete('/api/meeting/devices/:id', (request) => meeting.revoke(idOf(request.params)));
}
