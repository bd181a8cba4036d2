import { describe, expect, it } from 'vitest'
import { figureBench } from '../../../support/figureBench.ts'

// Design sheet of the four-jet rig: 513 W, rectifier 97.9 %, 477 W behind the charger (test/support/designSheets.ts).
const RIG = {
  generator: '{ kind: permanentMagnet, polePairs: 2, ratedPower: 513 W }',
  charger: '{ efficiency: 95 % }',
}
const DC = {
  activePower: '513 W',
  dcVoltage: '56.3 V',
  dcCurrent: `${502.2 / 56.3} A`,
  batteryVoltage: '26.4 V',
  batteryCurrent: '2 A',
  dumpVoltage: '26.4 V',
  dumpCurrent: '0 A',
  inverterInputVoltage: '26.4 V',
  inverterInputCurrent: `${(477.1 - 52.8) / 26.4} A`,
}

describe('resistors on the terminals of the generator', () => {
  it('takes what resistors on the terminals burn for what it is: neither a loss of the rectifier nor useful', () => {
    // by hand: 100 W more at the terminals, all of it in the resistors
    const bench = figureBench(RIG, { ...DC, activePower: '613 W', terminalLoadPower: '100 W' })
    expect(bench.view('rectifierInputPower').value).toBeCloseTo(513, 9)
    expect(bench.view('rectifierLoss').value).toBeCloseTo(10.8, 6)
    expect(bench.view('rectifierEfficiency').value).toBeCloseTo(0.979, 3)
    expect(bench.view('chargerEfficiency').value).toBeCloseTo(0.93, 3)
    expect(bench.view('usefulPower').value).toBeCloseTo(513, 9)
    expect(bench.view('usefulShare').value).toBeCloseTo(513 / 613, 9)
  })

  it('has no rectifier efficiency while all goes into resistors on the terminals', () => {
    const bench = figureBench(RIG, { ...DC, dcCurrent: '0 A', terminalLoadPower: '512 W' })
    expect(bench.view('rectifierEfficiency')).toMatchObject({
      value: null,
      reasons: ['rectifier input power is below 5 % of rated'],
    })
  })
})
