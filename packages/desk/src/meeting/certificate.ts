/** The house's own certificate: made once on this computer, kept with the library, known by its fingerprint. */
import { createHash, X509Certificate } from 'node:crypto';
import { chmod, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { generate } from 'selfsigned';
import { exists, writeWhole } from '../files/write.ts';

export interface HouseCertificate {
  /** PEM. */
  readonly certificate: string;
  /** PEM; never leaves this computer. */
  readonly key: string;
  /** SHA-256 of the certificate as pairs of hexadecimal digits; the phone shows the same. */
  readonly fingerprint: string;
}

const DAY_MS = 86_400_000;
/** Phones refuse certificates that are valid for longer. Common practice, no source. */
const VALID_DAYS = 820;
const RENEWED_BEFORE_DAYS = 30;

/**
 * The certificate of this house, made anew when there is none, when it runs out, or when the computer goes by
 * addresses that it does not name.
 *
 * @param addresses IP addresses and names under which this computer is met
 */
export async function houseCertificate(
  folder: string,
  addresses: readonly string[],
  nowMs: number,
): Promise<HouseCertificate> {
  const [certificatePath, keyPath] = [join(folder, 'house.crt.pem'), join(folder, 'house.key.pem')];
  if ((await exists(certificatePath)) && (await exists(keyPath))) {
    const [certificate, key] = await Promise.all([
      readFile(certificatePath, 'utf8'),
      readFile(keyPath, 'utf8'),
    ]);
    if (stillServes(certificate, addresses, nowMs)) return { certificate, key, ...told(certificate) };
  }
  const made = await generate([{ name: 'commonName', value: 'Tepal at home' }], {
    keyType: 'ec',
    curve: 'P-256',
    algorithm: 'sha256',
    notBeforeDate: new Date(nowMs - DAY_MS),
    notAfterDate: new Date(nowMs + VALID_DAYS * DAY_MS),
    extensions: [
      { name: 'basicConstraints', cA: false },
      { name: 'keyUsage', digitalSignature: true },
      { name: 'extKeyUsage', serverAuth: true },
      {
        name: 'subjectAltName',
        altNames: addresses.map((address) =>
          isAddress(address) ? { type: 7, ip: address } : { type: 2, value: address },
        ),
      },
    ],
  });
  await writeWhole(keyPath, made.private, { replace: true });
  await chmod(keyPath, 0o600);
  await writeWhole(certificatePath, made.cert, { replace: true });
  return { certificate: made.cert, key: made.private, ...told(made.cert) };
}

const isAddress = (text: string) => /^[\d.]+$/.test(text) || text.includes(':');

function stillServes(pem: string, addresses: readonly string[], nowMs: number): boolean {
  const certificate = new X509Certificate(pem);
  const lasts = Date.parse(certificate.validTo) - nowMs > RENEWED_BEFORE_DAYS * DAY_MS;
  return (
    lasts &&
    addresses.every((address) =>
      isAddress(address)
        ? certificate.checkIP(address) !== undefined
        : certificate.checkHost(address) !== undefined,
    )
  );
}

function told(pem: string): { fingerprint: string } {
  const hash = createHash('sha256').update(new X509Certificate(pem).raw).digest('hex').toUpperCase();
  return { fingerprint: hash.match(/../g)!.join(' ') };
}
