import { describe, expect, it } from 'vitest'
import { qrPath } from '../../server/qrPath.ts'

describe('qrPath', () => {
  it('draws a code of version 3 for an address of 40 letters: 29 modules and the quiet zone of 4', () => {
    // ISO/IEC 18004: version v has 17 + 4·v modules; version 3-M holds 42 bytes (from memory)
    const { size, path } = qrPath('http://192.0.2.5:8080/#/lesson/mora-tukexy')
    expect(size).toBe(29 + 8)
    // the finder pattern's corner is dark, the quiet zone is light
    expect(path.startsWith('M4 4h')).toBe(true)
    expect(path).not.toMatch(/M[0-3] /)
  })
})
