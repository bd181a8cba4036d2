import { describe, expect, it } from 'vitest'
import { settingText } from '../../../server/wire/setting.ts'

const jets = (...values: (number | null)[]) =>
  values.map((value, index) => ({ id: `jetOpen.${index + 1}`, value }))

describe('the words of a setting', () => {
  it('name the switches that are on, family by family', () => {
    const figures = [...jets(1, 0, 1), { id: 'loadOn.2', value: 1 }, { id: 'inletValve', value: 1 }]
    expect(settingText(figures)).toBe('jets 1, 3 · loads 2 · inlet valve open')
  })

  it('say none where all are off, and nothing where there are none', () => {
    expect(settingText(jets(0, 0))).toBe('jets none')
    expect(settingText([{ id: 'netHead', value: 12 }])).toBe('')
  })

  it.each([null, Number.NaN])('call a switch of which %s is known neither on nor off', (value) => {
    expect(settingText(jets(1, value))).toBe('jets 1, 2?')
    expect(settingText(jets(value, value))).toBe('jets not known')
  })
})
