import { createRequire } from 'node:module'
import type { QrView } from './wire/qr.ts'

/** The part of the package that is used; its own types describe a global. */
type QrModule = (
  version: 0,
  correction: 'M',
) => {
  addData(text: string): void
  make(): void
  getModuleCount(): number
  isDark(row: number, column: number): boolean
}

const qrcode = createRequire(import.meta.url)('qrcode-generator') as QrModule

/** Light modules around the code. Source: ISO/IEC 18004, quiet zone of four modules. */
const MARGIN = 4

/** An address as a QR code with medium error correction, ready to be drawn as one SVG path. */
export function qrPath(text: string): QrView {
  const code = qrcode(0, 'M')
  code.addData(text)
  code.make()
  const count = code.getModuleCount()
  let path = ''
  for (let row = 0; row < count; row++)
    for (let column = 0; column < count; column++)
      if (code.isDark(row, column)) path += `M${column + MARGIN} ${row + MARGIN}h1v1h-1z`
  return { size: count + 2 * MARGIN, path }
}
