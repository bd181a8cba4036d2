import { describe, expect, it } from 'vitest'
import { RIG_VOLTAGE_OVER_CURRENT } from '../../../support/designSheets.ts'
import { figureBench, type Readings, take } from '../../../support/figureBench.ts'
import { START } from '../../../support/manualClock.ts'

// Numbers of the design sheet of the four-jet rig (our own design, worked out by a calculation of its own; see
// test/support/designSheets.ts), unless a line says otherwise.
const RIG = {
  site: 'gravity: 9.81 m/s2, waterDensity: 998.2 kg/m3, elevations: { turbine: 0 m, inletGauge: 0.10 m, pumpGauge: -0.60 m }',
  turbine:
    '{ kind: pelton, jets: 4, pitchDiameter: 123 mm, nozzleBore: 7.5 mm, nozzleCoefficient: 0.94, velocityCoefficient: 0.97, inletBore: 52.5 mm, ratedNetHead: 24 m, ratedDischarge: 3.605 L/s, ratedSpeed: 1500 /min, ratedShaftPower: 593 W }',
  generator:
    '{ kind: permanentMagnet, polePairs: 2, ratedPower: 513 W, ratedVoltage: 24.7 V, ratedSpeed: 1500 /min, inertia: 0.020 kg.m2, voltageConstant: "18 mV/{rpm}", windingResistance: 0.28 Ohm, windingInductance: 2 mH }',
  pump: '{ ratedHead: 26.8 m, ratedDischarge: 3.605 L/s, gaugeRise: 0.8 m, outletBore: 52.5 mm, headCurve: [[0, 1.3433], [0.25, 1.3218], [0.5, 1.2574], [0.75, 1.1502], [1, 1]] }',
  battery: '{ ratedCharge: 50 A.h, ratedVoltage: 25.6 V, chargeEfficiency: 0.99 }',
  charger: '{ efficiency: 95 % }',
  inverter: '{ ratedPower: 600 W }',
}

/** The tap shows 24.00 − 0.14 velocity head − 0.10 tap height. */
const TAP = { inletPressure: '2.3267 bar' }
const jets = (...open: number[]) =>
  Object.fromEntries([1, 2, 3, 4].map((jet) => [`jetOpen.${jet}`, open.includes(jet) ? '1' : '0']))
const WATER = { ...TAP, discharge: '3.605 L/s', ...jets(1, 2, 3, 4) }
/** 502.2 W in; 18.07 A at 26.4 V out, split into battery, dump load and inverter. */
const BUS = {
  dcVoltage: '56.3 V',
  dcCurrent: '8.92 A',
  batteryVoltage: '26.4 V',
  batteryCurrent: '1.07 A',
  dumpVoltage: '26.4 V',
  dumpCurrent: '1 A',
  inverterInputVoltage: '26.4 V',
  inverterInputCurrent: '16 A',
}
const phases = (name: string, amount: string) =>
  Object.fromEntries([1, 2, 3].map((phase) => [`${name}.${phase}`, amount]))

describe('water figures of the four-jet rig', () => {
  it.each<[figure: string, readings: Readings, expected: number, within: number]>([
    ['netHead', WATER, 24.0, 0.005],
    ['hydraulicPower', WATER, 847, 0.5],
    ['nozzleFlow', WATER, 3.605e-3, 2e-6],
    ['openJets', WATER, 4, 0],
    ['jetFlow', WATER, 0.901e-3, 0.5e-6],
    ['nozzleHealth', WATER, 1, 0.002],
    ['jetVelocity', WATER, 21.05, 0.005],
    ['speedRatio', { ...WATER, speed: '1500 /min' }, 0.459, 0.0005],
    // k_u 0.459 by C_v 0.97
    ['headSpeedRatio', { ...WATER, speed: '1500 /min' }, 0.4452, 0.0005],
    ['idealSpecificEnergy', WATER, 0.0653 * 3.6e6, 200],
    ['turbineEfficiency', { ...WATER, torque: '3.775 N.m', speed: '1500 /min' }, 0.7, 0.001],
    ['shaftPower', { torque: '3.775 N.m', speed: '1500 /min' }, 593, 0.1],
    ['generatorEfficiency', { torque: '3.775 N.m', speed: '1500 /min', activePower: '513 W' }, 0.865, 0.0005],
    ['mechanicalTimeConstant', WATER, 0.832, 0.0005],
    // power balance of the sheet at four jets: 1897 → 847 → 593 → 513; rectifier 97.9 %, rectifier and charger 36 W
    ['pumpSetLoss', { ...WATER, pumpInputPower: '1897 W' }, 367 + 584 + 99, 1],
    ['turbineLoss', { ...WATER, torque: '3.775 N.m', speed: '1500 /min' }, 254, 0.6],
    ['generatorLoss', { torque: '3.775 N.m', speed: '1500 /min', activePower: '513 W' }, 80, 0.6],
    ['rectifierLoss', { activePower: '513 W', dcVoltage: '56.3 V', dcCurrent: '8.92 A' }, 0.021 * 513, 0.3],
    ['chargerLoss', BUS, 36 - 0.021 * 513, 0.4],
  ])('%s of %o is %d (design sheet)', (figure, readings, expected, within) => {
    expect(Math.abs(figureBench(RIG, readings).view(figure).value! - expected)).toBeLessThanOrEqual(within)
  })

  it.each([
    [1, '0.901 L/s', 212, '131 W', 0.62],
    [2, '1.802 L/s', 424, '290 W', 0.685],
    [3, '2.703 L/s', 635, '445 W', 0.7],
  ])(
    'efficiency with %d jets follows from the constant-head table',
    (count, discharge, water, _shaft, efficiency) => {
      const torque = ['0.836 N.m', '1.847 N.m', '2.831 N.m'][count - 1]!
      // the pressure that makes 24 m with the smaller velocity head of this discharge
      const velocity = (Number.parseFloat(discharge) * 1e-3) / ((Math.PI / 4) * 0.0525 ** 2)
      const pressure = 998.2 * 9.81 * (24 - 0.1 - velocity ** 2 / 19.62)
      const bench = figureBench(RIG, {
        discharge,
        inletPressure: `${pressure} Pa`,
        torque,
        speed: '1500 /min',
      })
      expect(bench.view('hydraulicPower').value).toBeCloseTo(water, -0.5)
      expect(bench.view('turbineEfficiency').value).toBeCloseTo(efficiency, 2)
    },
  )

  it('a jet tells of its nozzle while it runs alone, and of nothing else', () => {
    // by hand: 0.80 L/s where 0.901 L/s is right (less 0.0002 m of velocity head)
    const bench = figureBench(RIG, { ...TAP, discharge: '0.80 L/s', ...jets(3) })
    expect(bench.view('jetHealth.3').value).toBeCloseTo(0.8 / 0.901, 2)
    expect(bench.view('jetHealth.1')).toMatchObject({ value: null, reasons: ['jet 1 does not run alone'] })
    const two = figureBench(RIG, { ...TAP, discharge: '1.80 L/s', ...jets(3, 4) })
    expect(two.view('jetHealth.3')).toMatchObject({ value: null, reasons: ['jet 3 does not run alone'] })
  })

  it('nozzles are not checked with a discharge that comes from the nozzle law', () => {
    const bench = figureBench(RIG, { ...TAP, ...jets(1, 2, 3, 4) })
    expect(bench.view('discharge').quality).toBe('uncertain')
    // by hand: four times 0.94
    expect(bench.view('nozzleCoefficient').value).toBeCloseTo(3.76, 12)
    // design sheet: 3.605 L/s at 24 m; one law gives it from the gauge and from the net head
    expect(bench.view('discharge').value! * 1000).toBeCloseTo(3.605, 3)
    expect(bench.view('nozzleFlow').value! / bench.view('discharge').value!).toBeCloseTo(1, 9)
    expect(bench.plan.indexOf.has('nozzleHealth')).toBe(false)
    expect(bench.plan.indexOf.has('jetHealth.1')).toBe(false)
  })
})

describe('the pump of the rig', () => {
  // by hand from 26.80 m: p = ρg·(26.80 − 0.80 + 0.50 − v²/2g), v = 1.665 m/s
  const pressure = `${998.2 * 9.81 * (26.8 - 0.3 - 1.6653 ** 2 / 19.62)} Pa`
  const PUMP = { pumpOutletPressure: pressure, sumpLevel: '0.5 m', discharge: '3.605 L/s' }

  it('has the head, power and efficiency of the design sheet', () => {
    const bench = figureBench(RIG, { ...PUMP, pumpInputPower: '1897 W' })
    expect(bench.view('pumpHead').value).toBeCloseTo(26.8, 3)
    expect(bench.view('pumpHead').reasons[0]).toMatch(/^estimated: from the water level in the sump/)
    expect(bench.view('pumpHydraulicPower').value).toBeCloseTo(946, 0)
    expect(bench.view('pumpEfficiency').value).toBeCloseTo(946 / 1897, 3)
  })

  it('has the head of gauges, elevation and velocity heads, as ISO 9906 defines it', () => {
    // by hand: (2.5 − (−0.1)) bar/(1000·10) + 0.4 + (2² − 1²)/20; bores for 2 and 1 m/s at 10 L/s
    const bore = (velocity: number) => `${Math.sqrt((4 * 0.01) / (Math.PI * velocity))} m`
    const bench = figureBench(
      {
        site: 'gravity: 10 m/s2, waterDensity: 1000 kg/m3',
        pump: `{ gaugeRise: 0.4 m, outletBore: ${bore(2)}, inletBore: ${bore(1)} }`,
      },
      { pumpOutletPressure: '2.5 bar', pumpInletPressure: '-0.1 bar', discharge: '10 L/s' },
    )
    expect(bench.view('pumpHead').value).toBeCloseTo(26 + 0.4 + 0.15, 9)
    expect(bench.view('pumpHead').quality).toBe('good')
  })

  it.each([
    // H = 36.0·s² − 0.708·Q² with the speeds of the constant-head table; straight lines between points cost 0.1 m
    [0.843, '0.901 L/s', 36 * 0.843 ** 2 - 0.708 * 0.901 ** 2],
    [0.877, '1.802 L/s', 36 * 0.877 ** 2 - 0.708 * 1.802 ** 2],
    [0.93, '2.703 L/s', 36 * 0.93 ** 2 - 0.708 * 2.703 ** 2],
    [1, '3.605 L/s', 26.8],
  ])('at %d of its speed and %s gives the head of its curve (design sheet)', (speed, discharge, head) => {
    const bench = figureBench(RIG, { pumpSpeed: `${speed}`, discharge })
    expect(Math.abs(bench.view('modelledPumpHead').value! - head)).toBeLessThan(0.15)
  })

  it('shows what is missing from its curve', () => {
    const bench = figureBench(RIG, { ...PUMP, pumpSpeed: '100 %' })
    expect(bench.view('pumpResidual').value).toBeCloseTo(0, 2)
    // by hand: half a metre of water less at the gauge
    const worn = `${Number.parseFloat(pressure) - 998.2 * 9.81 * 0.5} Pa`
    const tired = figureBench(RIG, { ...PUMP, pumpOutletPressure: worn, pumpSpeed: '100 %' })
    expect(tired.view('pumpResidual').value).toBeCloseTo(0.5, 2)
  })
})

describe('the permanent-magnet generator of the rig', () => {
  it.each(RIG_VOLTAGE_OVER_CURRENT)(
    'at %d A has %d V, and 27.0 V behind its windings (design sheet)',
    (current, voltage) => {
      const bench = figureBench(RIG, {
        ...phases('phaseVoltage', `${voltage} V`),
        ...phases('phaseCurrent', `${current} A`),
        speed: '1500 /min',
      })
      expect(bench.view('modelledVoltage').value).toBeCloseTo(voltage, 2)
      expect(bench.view('internalEmf').value).toBeCloseTo(27, 1)
      expect(bench.view('noLoadVoltage').value).toBeCloseTo(27, 9)
      expect(bench.view('voltageResidual').value).toBeCloseTo(0, 2)
      expect(bench.view('voltageRegulation').value).toBeCloseTo((27 - voltage) / voltage, 9)
    },
  )

  it('loses 40.2 W in its copper at 6.92 A (design sheet)', () => {
    expect(figureBench(RIG, phases('phaseCurrent', '6.92 A')).view('copperLoss').value).toBeCloseTo(40.2, 1)
  })

  it('has twice the voltage at twice the speed: at runaway 86 V between phases', () => {
    const bench = figureBench(RIG, { speed: '2763 /min' })
    expect(Math.sqrt(3) * bench.view('noLoadVoltage').value!).toBeCloseTo(86, 0)
  })
})

describe('the direct-current side of the rig', () => {
  // 513 W at the generator, rectifier 97.9 %, charger 95 %, inverter 90 % of 477 W
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
    inverterOutputPower: '382 W',
  }

  it('has the efficiencies of the design sheet', () => {
    const bench = figureBench(RIG, DC)
    expect(bench.view('rectifierEfficiency').value).toBeCloseTo(0.979, 3)
    expect(bench.view('chargerEfficiency').value).toBeCloseTo(0.93, 3)
    expect(bench.view('inverterEfficiency').value).toBeCloseTo(0.9, 2)
    // by hand: 424.3 − 382
    expect(bench.view('inverterLoss').value).toBeCloseTo(42.3, 6)
  })

  it('adds up to nothing, and shows a wrong shunt by what is left over', () => {
    expect(figureBench(RIG, DC).view('busResidual').value).toBeCloseTo(0, 1)
    // by hand: a battery shunt that reads 1 A low hides 26.4 W
    const low = figureBench(RIG, { ...DC, batteryCurrent: '1 A' })
    expect(low.view('busResidual').value).toBeCloseTo(26.4, 1)
  })

  it('counts direct-current loads where they are measured, and no charger where there is none', () => {
    const { charger: _, ...direct } = RIG
    const bench = figureBench(direct, {
      dcVoltage: '26 V',
      dcCurrent: '10 A',
      batteryVoltage: '26 V',
      batteryCurrent: '4 A',
      dcLoadCurrent: '5 A',
    })
    expect(bench.view('dcLoadPower').value).toBeCloseTo(130, 9)
    // by hand: (10 − 4 − 5) A · 26 V
    expect(bench.view('busResidual').value).toBeCloseTo(26, 9)
    expect(bench.view('busResidual').quality).toBe('good')
  })

  it('gives 429 W from 1897 W of the mains: 22.6 % (design sheet)', () => {
    const bench = figureBench(RIG, { inverterOutputPower: '429 W', pumpInputPower: '1897 W' })
    expect(bench.view('chainEfficiency').value).toBeCloseTo(0.226, 3)
  })

  it('gives 513 W at the terminals from 1897 W of the mains: 27.0 % (design sheet)', () => {
    const bench = figureBench(RIG, { activePower: '513 W', pumpInputPower: '1897 W' })
    expect(bench.view('pumpToWireEfficiency').value).toBeCloseTo(0.2704, 4)
  })

  it('loses 1.90 m from pump to manifold: 2.60 m between the gauges, of which 0.70 m are their elevations (design sheet)', () => {
    const gauge = (metres: number) => `${998.2 * 9.81 * metres} Pa`
    const bench = figureBench(RIG, { pumpOutletPressure: gauge(26.36), inletPressure: gauge(23.76) })
    expect(bench.view('pipeLoss').value).toBeCloseTo(1.9, 6)
  })
})

describe('the battery of the rig', () => {
  const BATTERY = { batteryVoltage: '26.4 V', batteryCurrent: `${477 / 26.4} A`, stateOfCharge: '50 %' }

  it('is judged by the mean of five minutes, not by a moment', () => {
    const bench = figureBench(RIG, { ...BATTERY, batteryCurrent: '10 A' })
    for (let second = 5; second <= 600; second += 5) {
      const amperes = second % 10 === 0 ? 20 : 10
      take(bench, { ...BATTERY, batteryCurrent: `${amperes} A` }, START + second * 1000)
      bench.evaluate(START + second * 1000)
    }
    // by hand: 10 and 20 A in turn at 26.4 V
    expect(bench.view('batteryPowerMean').value! / 26.4).toBeCloseTo(15, 0)
  })

  it('is full after what is left over the power at its efficiency', () => {
    // by hand: 640 Wh of 1.28 kWh / (0.99 · 477 W)
    const view = figureBench(RIG, BATTERY).view('timeToFull')
    expect(view.value! / 3600).toBeCloseTo(640 / (0.99 * 477), 6)
    expect(view.reasons[0]).toMatch(/^estimated/)
  })

  it('is empty after what is in it over the power, and never while it is charged', () => {
    const bench = figureBench(RIG, { ...BATTERY, batteryCurrent: '-10 A' })
    // by hand: 640 Wh / 264 W
    expect(bench.view('timeToEmpty').value! / 3600).toBeCloseTo(640 / 264, 6)
    expect(bench.view('timeToFull').value).toBeNull()
    const idle = figureBench(RIG, { ...BATTERY, batteryCurrent: '0.1 A' })
    // 2.64 W is under 1 % of 513 W
    expect(idle.view('timeToFull')).toMatchObject({
      value: null,
      reasons: ['the battery is charged with less than 1 % of rated power'],
    })
  })
})

describe('means over the phases', () => {
  it('are those of three unlike phases (by hand)', () => {
    const bench = figureBench(RIG, {
      'phaseVoltage.1': '24 V',
      'phaseVoltage.2': '25 V',
      'phaseVoltage.3': '26.5 V',
      'phaseCurrent.1': '6 A',
      'phaseCurrent.2': '7 A',
      'phaseCurrent.3': '8.6 A',
    })
    expect(bench.view('meanPhaseVoltage').value).toBeCloseTo(75.5 / 3, 9)
    expect(bench.view('meanPhaseCurrent').value).toBeCloseTo(7.2, 9)
  })
})
