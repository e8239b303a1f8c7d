/** What the desk and the pages say to each other about phones that meet on the home network. */

/** A phone that was let in. */
export interface MetDevice {
  readonly id: string;
  readonly name: string;
  /** ISO 8601. */
  readonly pairedAt: string;
  readonly lastSeenAt: string;
}

export interface MeetingState {
  /** Whether the desk listens on the home network now. */
  readonly listening: boolean;
  /** Addresses under which a phone reaches it, the most usual first. */
  readonly addresses: readonly string[];
  /** SHA-256 of the house's certificate, as pairs of digits; null while it does not listen. */
  readonly fingerprint: string | null;
  readonly devices: readonly MetDevice[];
}

/** A code that lets one phone in. */
export interface MeetingCode {
  readonly code: string;
  readonly secondsLeft: number;
  /** What the phone opens: the desk's address with the code. */
  readonly link: string;
}
