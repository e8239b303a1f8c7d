// The desk on the home network: who is let in, and what stays outside whatever they try.
import { createHash, X509Certificate } from 'node:crypto';
import { mkdtempSync, readFileSync, rmSync, statSync } from 'node:fs';
import { request as httpsRequest } from 'node:https';
import { connect as netConnect, type Socket } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { connect as tlsConnect } from 'node:tls';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { houseCertificate } from './certificate.ts';
import { openDevices } from './devices.ts';
import { openMeeting, type Meeting } from './meeting.ts';
import { openPairing } from './pairing.ts';

let folder: string;
let meeting: Meeting;
let port: number;
const kept = { bytes: new Uint8Array([1, 2, 3]) };

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'tepal-meeting-'));
  meeting = await openMeeting({
    folder,
    notebook: async () => kept.bytes,
    merge: async (bytes) => (kept.bytes = Uint8Array.from([...kept.bytes, ...bytes])),
  });
  const { addresses } = await meeting.open();
  port = Number(addresses[0]!.split(':').at(-1));
}, 30_000);
afterAll(async () => {
  await meeting.shut();
  rmSync(folder, { recursive: true, force: true });
});

interface Asked {
  readonly path?: string;
  readonly method?: string;
  readonly headers?: Readonly<Record<string, string>>;
  readonly body?: string | Uint8Array;
  readonly from?: string;
}

function ask({ path = '/meet', method = 'GET', headers = {}, body, from }: Asked) {
  return new Promise<{ status: number; text: string; bytes: Buffer }>((resolve, reject) => {
    const request = httpsRequest(
      {
        ...{ host: '127.0.0.1', port, path, method, rejectUnauthorized: false, agent: false },
        ...(from === undefined ? {} : { localAddress: from }),
        headers: { 'x-tepal': '1', 'content-type': 'application/json', ...headers },
      },
      (answer) => {
        const parts: Buffer[] = [];
        answer.on('data', (part: Buffer) => parts.push(part));
        answer.on('end', () => {
          const bytes = Buffer.concat(parts);
          resolve({ status: answer.statusCode ?? 0, text: bytes.toString(), bytes });
        });
      },
    );
    request.on('error', reject);
    request.end(body);
  });
}

const pair = (code: string) =>
  ask({ path: '/meet/pair', method: 'POST', body: JSON.stringify({ code, name: 'invented phone' }) });

async function paired(): Promise<string> {
  const { status, text } = await pair(meeting.newCode().code);
  expect(status, text).toBe(200);
  return (JSON.parse(text) as { credential: string }).credential;
}

const notebook = (credential: string) =>
  ask({ path: '/meet/notebook', headers: { authorization: `Tepal ${credential}` } });

describe('a phone of the house', () => {
  it('is let in by a code, exchanges the notebook, and is listed by its name', async () => {
    const credential = await paired();
    expect([...(await notebook(credential)).bytes]).toEqual([1, 2, 3]);
    const merged = await ask({
      ...{ path: '/meet/notebook', method: 'POST', body: new Uint8Array([9]) },
      headers: { authorization: `Tepal ${credential}`, 'content-type': 'application/octet-stream' },
    });
    expect([...merged.bytes]).toEqual([1, 2, 3, 9]);
    expect(meeting.state().devices.map(({ name }) => name)).toEqual(['invented phone']);
  });

  it('is shut out once it is taken off the list, and the others are not', async () => {
    const [one, other] = [await paired(), await paired()];
    await meeting.revoke(one.split('.')[0]!);
    expect((await notebook(one)).status).toBe(401);
    expect((await notebook(other)).status).toBe(200);
  });

  it('shows the certificate by the fingerprint that the desk shows', async () => {
    const certificate = await new Promise<X509Certificate>((resolve, reject) => {
      const socket = tlsConnect({ host: '127.0.0.1', port, rejectUnauthorized: false }, () => {
        resolve(socket.getPeerX509Certificate()!);
        socket.end();
      });
      socket.on('error', reject);
    });
    const hash = createHash('sha256').update(certificate.raw).digest('hex').toUpperCase();
    expect(meeting.state().fingerprint!.replaceAll(' ', '')).toBe(hash);
    expect(certificate.checkIP('127.0.0.1')).toBe('127.0.0.1');
  });

  it('leaves only the hash of its key at the desk, and the house’s key is for its owner alone', async () => {
    const key = (await paired()).split('.')[1]!;
    expect(readFileSync(join(folder, 'devices.json'), 'utf8')).not.toContain(key);
    if (process.platform !== 'win32') {
      expect(statSync(join(folder, 'house.key.pem')).mode & 0o077).toBe(0);
    }
  });
});

describe('who is not let in', () => {
  it('a request without a key, or with a wrong one', async () => {
    const id = (await paired()).split('.')[0]!;
    expect((await ask({ path: '/meet/notebook' })).status).toBe(401);
    for (const wrong of [`${id}.guess`, `${id}.`, 'none.none', '.', `${id}.${'A'.repeat(43)}`]) {
      expect((await notebook(wrong)).status).toBe(401);
    }
  });

  it('a code used twice, one that was replaced, and one guessed five times', async () => {
    const { code } = meeting.newCode();
    expect((await pair(code)).status).toBe(200);
    expect((await pair(code)).status).toBe(403);
    const replaced = meeting.newCode().code;
    const guessed = meeting.newCode().code;
    expect((await pair(replaced)).status).toBe(403);
    for (let i = 0; i < 4; i += 1) expect((await pair('AAAAAAAA')).status).toBe(403);
    expect((await pair(guessed)).status).toBe(403);
  });

  it('a code that has run out', () => {
    let now = 0;
    const pairing = openPairing(() => now);
    const { code } = pairing.newCode();
    now = 120_001;
    expect(pairing.redeem(code)).toBe(false);
  });

  it.each([
    ['a form on another site', { headers: { 'x-tepal': '', 'content-type': 'text/plain' }, method: 'POST' }],
    ['another origin', { headers: { origin: 'https://elsewhere.example' } }],
    ['a picture tag elsewhere', { headers: { 'sec-fetch-site': 'cross-site' } }],
    ['a name that was made to point here', { headers: { host: 'meadow.example' } }],
    ['a name that ends in the desk’s address', { headers: { host: '127.0.0.1.meadow.example' } }],
  ] satisfies [string, Asked][])('%s: 403', async (_who, asked) => {
    expect((await ask(asked)).status).toBe(403);
  });

  it.each(['/../house.key.pem', '/..%2fhouse.key.pem', '/%2e%2e/%2e%2e/devices.json', '//etc/passwd'])(
    'whoever asks for a file outside the pages: %s',
    async (path) => {
      const { text } = await ask({ path });
      expect(text).not.toMatch(/PRIVATE KEY|keyHash|root:/);
    },
  );

  it.each(['/api/state', '/api/mine/frames', '/api/folders', '/api/mine/notebook'])(
    'whoever asks for what belongs to the computer itself: %s',
    async (path) => {
      expect((await ask({ path, headers: { authorization: `Tepal ${await paired()}` } })).status).toBe(404);
    },
  );

  it('a request with huge headers', async () => {
    const { status } = await ask({ headers: { filler: 'x'.repeat(20_000) } });
    expect(status).toBe(431);
  });

  it('a body that is no JSON, and one that is no bytes', async () => {
    const cut = await ask({ path: '/meet/pair', method: 'POST', body: '{"code":' });
    expect(cut.status).toBe(400);
    const credential = await paired();
    const empty = await ask({
      ...{ path: '/meet/notebook', method: 'POST', body: '{}' },
      headers: { authorization: `Tepal ${credential}` },
    });
    expect(empty.status).toBe(400);
    expect(empty.text).not.toMatch(/\bat .*:\d+/);
  });

  it('500 connections that say nothing: they are cut off, and a phone elsewhere is served meanwhile', async () => {
    const slow: Socket[] = [];
    let cut = 0;
    for (let i = 0; i < 500; i += 1) {
      const socket = netConnect({ host: '127.0.0.1', port });
      socket.on('error', () => undefined).on('close', () => (cut += 1));
      slow.push(socket);
    }
    await new Promise((resolve) => setTimeout(resolve, 500));
    expect((await ask({ from: '127.0.0.2', headers: { host: '127.0.0.1' } })).status).toBe(200);
    for (let waited = 0; cut < 500 && waited < 15_000; waited += 250) {
      await new Promise((resolve) => setTimeout(resolve, 250));
    }
    expect(cut).toBe(500);
    expect((await ask({})).status).toBe(200);
    for (const socket of slow) socket.destroy();
  }, 30_000);
});

describe('what is kept', () => {
  it('outlasts a restart: the same certificate, the same phones', async () => {
    const credential = await paired();
    const before = meeting.state().fingerprint;
    const devices = await openDevices(folder);
    expect(devices.known(credential)?.name).toBe('invented phone');
    const again = await houseCertificate(folder, ['127.0.0.1'], Date.now());
    expect(again.fingerprint).toBe(before);
  });

  it('makes a new certificate for an address that the old one does not name', async () => {
    const before = await houseCertificate(folder, ['127.0.0.1'], Date.now());
    const after = await houseCertificate(folder, ['127.0.0.1', '192.0.2.7'], Date.now());
    expect(after.fingerprint).not.toBe(before.fingerprint);
    expect(new X509Certificate(after.certificate).checkIP('192.0.2.7')).toBe('192.0.2.7');
  });

  it('shuts: nobody is answered any more', async () => {
    await meeting.shut();
    await expect(ask({})).rejects.toThrow(/ECONNREFUSED/);
    expect(() => meeting.newCode()).toThrow(/Open the meeting first/);
  });
});
