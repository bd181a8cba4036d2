import type { Random } from '../../simulator/random.ts'
import { type Drawn, within } from './drawnRating.ts'

/** Generator and what it feeds. */
export function networkOf(random: Random, drawn: Drawn) {
  const { power } = drawn.rating
  // as much without load as with it
  const noLoadLoss = `${0.5 * (drawn.rating.input - power)} W`
  const consumers = [
    { id: 'houses', kind: 'demand', power: `${within(random, [0.2, 0.5]) * power} W`, powerFactor: 0.95 },
    { id: 'motor', power: `${0.2 * power} W`, powerFactor: 0.8, on: false },
  ]
  const dump = { ratedPower: `${within(random, [1.15, 1.4]) * power} W` }
  if (drawn.network === 'bus') return busOf(random, { drawn, noLoadLoss, consumers, dump })
  const isMagnet = drawn.network === 'island' && random() < 0.4
  const generator = isMagnet ? magnetOf(random, drawn, 230) : turningOf(random, drawn)
  const closing =
    drawn.kind.inlet === 'spears' ? { deflector: { strokeTime: '0.3 s', returnTime: '3 s' } } : {}
  const overSpeed = { level: within(random, [1.15, 1.25]), ...closing }
  if (drawn.network === 'grid')
    return { sections: { generator }, built: { turbine: {}, generator: { noLoadLoss }, overSpeed, grid: {} } }
  const battery = { ratedCharge: `${power / 51.2} A.h`, ratedVoltage: '51.2 V', chargeEfficiency: 0.98 }
  const storage = random() < 0.5 ? { battery, inverter: { ratedPower: `${0.5 * power} W` } } : {}
  return {
    sections: { generator, dump, ...storage },
    built: { turbine: {}, generator: { noLoadLoss }, overSpeed, island: {}, consumers },
  }
}

/** Synchronous or induction machine. */
function turningOf(random: Random, { isInduction, rating }: Drawn) {
  const factor = within(random, [0.8, 0.9])
  const relative = [
    [0.1, 0.8],
    [0.25, 0.91],
    [0.5, 0.97],
    [0.75, 1],
    [1, 1],
  ] as const
  return {
    kind: isInduction ? 'induction' : 'synchronous',
    ratedVoltage: '230 V',
    ratedCurrent: `${rating.power / factor / 690} A`,
    efficiencyCurve: relative.map(([share, part]) => [share, part * rating.generator]),
  }
}

interface BusParts {
  drawn: Drawn
  noLoadLoss: string
  consumers: object[]
  dump: object
}

/** Half of the losses in the copper; reactance 10 … 30 % of the load's resistance. */
function magnetOf(random: Random, { rating }: Drawn, voltage: number) {
  const { power, input, speed, polePairs } = rating
  const current = power / (3 * voltage)
  const resistance = (0.5 * (input - power)) / (3 * current ** 2)
  const reactance = (within(random, [0.1, 0.3]) * voltage) / current
  const emf = Math.hypot(voltage + current * resistance, current * reactance)
  return {
    kind: 'permanentMagnet',
    ratedVoltage: `${voltage} V`,
    ratedCurrent: `${current} A`,
    voltageConstant: `${emf / speed} V.s/rad`,
    windingResistance: `${resistance} Ohm`,
    windingInductance: `${reactance / (polePairs * speed)} H`,
  }
}

function busOf(random: Random, { drawn, noLoadLoss, consumers, dump }: BusParts) {
  const { power } = drawn.rating
  const batteryVoltage = random() < 0.5 ? 25.6 : 51.2
  const voltage = within(random, [1, 1.8]) * batteryVoltage
  return {
    sections: {
      generator: magnetOf(random, drawn, voltage),
      battery: {
        ratedCharge: `${(5 * power) / batteryVoltage} A.h`,
        ratedVoltage: `${batteryVoltage} V`,
        chargeEfficiency: 0.99,
      },
      charger: { efficiency: 0.95, rectifierEfficiency: 0.98 },
      dump,
      inverter: { ratedPower: `${power} W` },
    },
    built: {
      turbine: {},
      generator: { noLoadLoss },
      overSpeed: { level: 1.2, brake: `${(0.6 * 3 * voltage ** 2) / power} Ohm` },
      bus: {},
      consumers,
    },
  }
}
