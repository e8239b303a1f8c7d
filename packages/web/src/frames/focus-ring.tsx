/** The point of focus on a picture: a ring with a tail. Drawn twice, dark on light, so that it shows on any petal. */

export function FocusRing({ x, y, guessed }: { x: number; y: number; guessed: boolean }) {
  const dashes = guessed ? '5 4' : undefined;
  const shape = (
    <>
      <circle r={18} stroke-dasharray={dashes} />
      <path d="M19.5 13.5L34 23.5" />
    </>
  );
  return (
    <svg
      class="focus-ring"
      aria-hidden="true"
      style={{ left: `${x - 36}px`, top: `${y - 36}px` }}
      viewBox="-36 -36 72 72"
    >
      <g fill="none" stroke="#fff" stroke-width={4} stroke-linecap="round" opacity={0.8}>
        {shape}
      </g>
      <g fill="none" stroke="#24221d" stroke-width={1.8} stroke-linecap="round">
        {shape}
      </g>
    </svg>
  );
}
