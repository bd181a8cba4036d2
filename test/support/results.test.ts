import { describe, expect, it } from 'vitest'
import { replaceBlock } from './results.ts'

describe('replaceBlock', () => {
  const page = '# Results\n<!-- a:begin -->\nold\n<!-- a:end -->\n<!-- b:begin -->\nkept\n<!-- b:end -->\n'

  it('puts a text in the place of what stood between the markers, and nothing else', () => {
    expect(replaceBlock(page, 'a', 'new')).toBe(page.replace('old', 'new'))
  })

  it('refuses a block that the page does not have', () => {
    expect(() => replaceBlock(page, 'c', 'new')).toThrow('no block "c"')
  })
})
