/** Numbers as they stand in a sentence. */

/** A blur in words: two figures below 10 px, "0.9 px"; whole pixels above. Never 0.0: "under 0.1 px". */
export function pxInWords(px: number): string {
  if (px < 0.05) return 'under 0.1 px';
  return px < 9.95 ? `${px.toFixed(1)} px` : `${Math.round(px)} px`;
}

/** A share in words: "3 %", "under 1 %", "none". */
export function shareInWords(share: number): string {
  if (share <= 0) return 'none';
  return share < 0.01 ? 'under 1 %' : `${Math.round(share * 100)} %`;
}

/** A shutter time as it stands on the dial: "1/250 s", "0.5 s", "2 s". */
export function shutterInWords(exposureTimeS: number): string {
  if (exposureTimeS >= 0.3) return `${Number(exposureTimeS.toFixed(1))} s`;
  return `1/${Math.round(1 / exposureTimeS)} s`;
}

/** The first letter of a sentence in upper case. */
export function asSentence(text: string): string {
  return `${text.charAt(0).toUpperCase()}${text.slice(1)}`;
}
