/** How many may stand at the door at once, so that one caller who says nothing keeps nobody else out. */
import type { Server } from 'node:https';
import type { Socket } from 'node:net';

/** Open connections in all, and from one address: a browser opens six. */
const MOST = 256;
const MOST_FROM_ONE = 24;

export function limitConnections(server: Server): void {
  server.maxConnections = MOST;
  const open = new Map<string, number>();
  server.on('connection', (socket: Socket) => {
    const from = socket.remoteAddress ?? '';
    const count = (open.get(from) ?? 0) + 1;
    open.set(from, count);
    socket.once('close', () => {
      const left = (open.get(from) ?? 1) - 1;
      if (left === 0) open.delete(from);
      else open.set(from, left);
    });
    if (count > MOST_FROM_ONE) socket.destroy();
  });
}
