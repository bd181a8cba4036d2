import type { QrView } from '../../../server/wire/qr.ts'

/** For a camera. */
export function QrCode({ qr: { size, path }, label }: { qr: QrView; label: string }) {
  return (
    <svg
      class="qr"
      viewBox={`0 0 ${size} ${size}`}
      role="img"
      aria-label={label}
      shape-rendering="crispEdges"
    >
      <rect class="qr-light" width={size} height={size} />
      <path class="qr-dark" d={path} />
    </svg>
  )
}
