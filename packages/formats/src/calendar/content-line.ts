/**
 * Content lines of iCalendar: escaped, and folded so that none is longer than 75 octets.
 *
 * @source RFC 5545, 3.1 (lines), 3.3.11 (text)
 */

const MOST_OCTETS = 75;

/** A text value: backslash, semicolon, comma and line ends escaped; other control characters left out. */
export function escapedText(text: string): string {
  const lines = text.replace(/\r\n?/g, '\n').replace(/\p{Surrogate}/gu, '\ufffd');
  const shown = [...lines].filter((c) => c === '\n' || c === '\t' || (c >= ' ' && c !== '\u007f')).join('');
  return shown.replace(/[\\;,]/g, '\\$&').replaceAll('\n', '\\n');
}

/** A line with its end, folded between characters, never inside one. */
export function contentLine(name: string, value: string): string {
  const octets = (c: string) => {
    const code = c.codePointAt(0) ?? 0;
    if (code < 0x80) return 1;
    if (code < 0x800) return 2;
    return code < 0x10000 ? 3 : 4;
  };
  let folded = '';
  let length = 0;
  for (const c of `${name}:${value}`) {
    if (length + octets(c) > MOST_OCTETS) {
      folded += '\r\n ';
      // The space that marks a folded line counts.
      length = 1;
    }
    folded += c;
    length += octets(c);
  }
  return `${folded}\r\n`;
}
