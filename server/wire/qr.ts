import { z } from 'zod'
import { number, text } from './shape.ts'

export const qrView = z
  .object({ size: number, path: text })
  .describe('Side of the square in modules, with its margin, and the dark ones as an SVG path')
/** A QR code, ready to be drawn. */
export type QrView = z.output<typeof qrView>
