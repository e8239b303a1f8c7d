/** A link as a code for the phone's camera (ISO/IEC 18004), drawn from a matrix of dark and light. */
import { encode } from 'uqr';

/** Light modules round the code, as the standard asks for. */
const quiet = 4;

export function ScanCode({ text }: { text: string }) {
  const { data, size } = encode(text, { border: 0, ecc: 'M' });
  const dark = data
    .flatMap((row, y) => row.map((isDark, x) => (isDark ? `M${x + quiet} ${y + quiet}h1v1h-1z` : '')))
    .join('');
  const side = size + 2 * quiet;
  return (
    <svg
      class="scan-code"
      viewBox={`0 0 ${side} ${side}`}
      role="img"
      aria-label="A code for the phone’s camera"
    >
      <rect width={side} height={side} fill="#fff" />
      <path d={dark} fill="#000" shape-rendering="crispEdges" />
    </svg>
  );
}
