import { type DoubtfulPlant, type Draw, densityAt, gravityAt, stolz } from './drawnTruth.ts'
import type { WornInstrument } from './wornInstruments.ts'

/** Turgo whose flow follows from its nozzles alone: Q = N·Cd·A·√(2gH). */
export function byNozzles(draw: Draw): DoubtfulPlant {
  const g = gravityAt(54, 200)
  const head = draw.of(30, 120)
  const celsius = draw.of(4, 18)
  const bore = draw.constant(0.032, 0.0001)
  const pipe = draw.constant(0.2, 0.001)
  const coefficient = draw.constant(0.94, 0.02 * 0.94)
  const gauge = draw.constant(100.5, 0.01)
  const axis = draw.constant(100, 0.01)
  const Q = 2 * coefficient.truth * (Math.PI / 4) * bore.truth ** 2 * Math.sqrt(2 * g * head)
  const velocityHead = (Q / ((Math.PI / 4) * pipe.truth ** 2)) ** 2 / (2 * g)
  const column = head - (gauge.truth - axis.truth) - velocityHead
  const p = densityAt(celsius, (1000 * g * column) / 2) * g * column
  const hydraulic = densityAt(celsius, p) * Q * g * head
  const efficiency = draw.of(0.7, 0.82)
  return {
    sections: [
      'site: { timeZone: UTC, latitude: 54 deg, altitude: 200 m, elevations: { turbine: 100 m, inletGauge: 100.5 m } }',
      'turbine: { kind: turgo, jets: 2, nozzleBore: 32 mm ± 0.1 mm, nozzleCoefficient: 0.94 ± 2 %, inletBore: 200 mm ± 1 mm }',
      'generator: { kind: synchronous, ratedPower: 60 kW }',
    ],
    instruments: [
      { role: 'inletPressure', truth: p, unit: 'Pa', share: 0.004, character: 'limits' },
      {
        role: 'torque',
        truth: (efficiency * hydraulic) / 157.08,
        unit: 'N.m',
        share: 0.005,
        character: 'worn',
      },
      { role: 'speed', truth: 1500, unit: '/min', fixed: 1, step: 1, character: 'limits' },
      { role: 'jetOpen.1', truth: 1, unit: '1', character: 'limits' },
      { role: 'jetOpen.2', truth: 1, unit: '1', character: 'limits' },
      { role: 'waterTemperature', truth: celsius, unit: 'Cel', fixed: 0.3, step: 0.1, character: 'limits' },
    ],
    truth: {
      discharge: Q,
      netHead: head,
      hydraulicPower: hydraulic,
      turbineEfficiency: (efficiency * 157.0796) / 157.08,
    },
  }
}

/** Residual flow through a pipe in the dam: Q = Cd·a·√(2gh). */
export function byOutlet(draw: Draw): DoubtfulPlant {
  const coefficient = draw.constant(0.6, 0.05 * 0.6)
  const area = draw.constant(0.01, 0.0001)
  const centre = draw.constant(0.4, 0.01)
  const level = draw.of(0.9, 1.6)
  const g = gravityAt(47, 900)
  return {
    sections: [
      'site: { timeZone: UTC, latitude: 47 deg, altitude: 900 m }',
      'residualOutlet: { area: 0.01 m2 ± 1 %, coefficient: 0.6 ± 5 %, centre: 0.4 m }',
    ],
    instruments: [
      { role: 'headwaterLevel', truth: level, unit: 'm', fixed: 0.01, step: 0.005, character: 'worn' },
    ],
    truth: {
      residualFlow: coefficient.truth * area.truth * Math.sqrt(2 * g * (level - centre.truth)),
    },
  }
}

/** 90° notch with the constants that ISO 1438 gives for that angle (from memory). */
export function byNotch(draw: Draw): DoubtfulPlant {
  const factor = draw.constant(1, 0.015)
  const angle = draw.constant(90, 0.2)
  const h = draw.of(0.12, 0.3)
  const g = gravityAt(54, 100)
  const tangent = Math.tan((angle.truth * Math.PI) / 360)
  return {
    sections: [
      'site: { timeZone: UTC, latitude: 54 deg, altitude: 100 m }',
      'weir: { notchAngle: 90 deg, calibrationFactor: 1 ± 1.5 %, measures: residualFlow }',
    ],
    instruments: [{ role: 'weirHead', truth: h, unit: 'm', fixed: 0.001, step: 0.001, character: 'limits' }],
    truth: {
      weirFlow: factor.truth * (8 / 15) * 0.578 * Math.sqrt(2 * g) * tangent * (h + 0.00085) ** 2.5,
    },
  }
}

/**
 * Orifice with corner taps; nothing stated. The coefficient lies between that of an older edition of the standard and as
 * far again on the other side of the newer one, which stands 0.33 % above it here.
 */
export function byOrifice(draw: Draw): DoubtfulPlant {
  const pipe = draw.constant(0.2, 0.004 * 0.2, true)
  const plate = draw.constant(0.12, 0.0007 * 0.12, true)
  const celsius = draw.of(5, 20)
  const rho = densityAt(celsius, 0)
  const nu = 1.3e-6
  const Q = draw.of(0.03, 0.06)
  const beta = plate.truth / pipe.truth
  const velocity = Q / ((Math.PI / 4) * pipe.truth ** 2)
  const C = stolz(beta, (velocity * pipe.truth) / nu) * (1 + draw.of(0, 0.0066))
  const dp = (rho / 2) * ((Q * Math.sqrt(1 - beta ** 4)) / (C * (Math.PI / 4) * plate.truth ** 2)) ** 2
  return {
    sections: ['site: { timeZone: UTC }', 'orifice: { bore: 120 mm, pipeBore: 200 mm }'],
    instruments: [
      { role: 'meterPressureDifference', truth: dp, unit: 'Pa', share: 0.005, character: 'worn' },
      { role: 'waterTemperature', truth: celsius, unit: 'Cel', fixed: 0.5, step: 0.1, character: 'limits' },
    ],
    truth: { meterFlow: Q },
  }
}

/** Three phases through one meter: voltages err together, and so do currents. */
export function byOneMeter(draw: Draw): DoubtfulPlant {
  const phases = [1, 2, 3].map(() => ({ U: draw.of(225, 235), I: draw.of(18, 24) }))
  return {
    sections: ['site: { timeZone: UTC }', 'generator: { kind: synchronous, phases: 3, ratedPower: 15 kW }'],
    instruments: phases.flatMap(({ U, I }, i): WornInstrument[] => [
      {
        role: `phaseVoltage.${i + 1}`,
        truth: U,
        unit: 'V',
        share: 0.005,
        step: 0.1,
        calibration: 'u',
        character: 'limits',
      },
      {
        role: `phaseCurrent.${i + 1}`,
        truth: I,
        unit: 'A',
        share: 0.01,
        step: 0.01,
        calibration: 'i',
        character: 'limits',
      },
    ]),
    truth: { apparentPower: phases.reduce((sum, { U, I }) => sum + U * I, 0) },
  }
}
