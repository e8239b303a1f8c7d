/** For tests: a service on the loopback address that replays what it is given and keeps every byte it was sent. */
import { createServer, type Socket } from 'node:net';

export interface Replay {
  readonly status: number;
  readonly headers?: Readonly<Record<string, string>>;
  readonly body?: Uint8Array | string;
  /** Breaks the connection off after so many bytes of the body. */
  readonly cutAt?: number;
}

export interface ReplayingService {
  readonly address: string;
  /** Every request as it came, head and all. */
  readonly requests: string[];
  /** What the next requests get: the first of the list, the last of which stays. */
  answer(...replays: readonly ((path: string) => Replay)[]): void;
  close(): Promise<void>;
}

export async function startReplayingService(): Promise<ReplayingService> {
  let waiting: readonly ((path: string) => Replay)[] = [];
  const requests: string[] = [];
  const open = new Set<Socket>();
  const server = createServer((socket) => {
    open.add(socket);
    socket.on('close', () => open.delete(socket));
    socket.on('error', () => socket.destroy());
    let head = '';
    socket.on('data', (bytes) => {
      head += bytes.toString('latin1');
      if (!head.includes('\r\n\r\n')) return;
      requests.push(head);
      const path = head.split(' ')[1] ?? '';
      head = '';
      const next = waiting[0];
      if (waiting.length > 1) waiting = waiting.slice(1);
      reply(socket, next === undefined ? { status: 404 } : next(path));
    });
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  const at = server.address();
  const port = typeof at === 'object' && at !== null ? at.port : 0;
  return {
    address: `http://127.0.0.1:${port}`,
    requests,
    answer: (...replays) => {
      waiting = replays;
    },
    close: () =>
      new Promise((resolve) => {
        for (const socket of open) socket.destroy();
        server.close(() => resolve());
      }),
  };
}

function reply(socket: Socket, { status, headers = {}, body = '', cutAt }: Replay): void {
  const bytes = typeof body === 'string' ? Buffer.from(body) : Buffer.from(body);
  const length = status === 304 ? {} : { 'Content-Length': String(bytes.length) };
  const lines = Object.entries({ ...length, Connection: 'close', ...headers }).map(
    ([name, value]) => `${name}: ${value}\r\n`,
  );
  socket.write(`HTTP/1.1 ${status} Replayed\r\n${lines.join('')}\r\n`);
  if (cutAt !== undefined) {
    socket.write(bytes.subarray(0, cutAt), () => socket.destroy());
    return;
  }
  socket.end(bytes);
}

/** The header of a request as it came; undefined where it had none. */
export function headerOf(request: string | undefined, name: string): string | undefined {
  const line = (request ?? '').split('\r\n').find((one) => one.toLowerCase().startsWith(`${name}:`));
  return line?.slice(name.length + 1).trim();
}
