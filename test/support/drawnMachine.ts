import { readPlant } from '../../server/plant/load.ts'
import type { Plant } from '../../server/plant/plant.ts'
import { createRandom, type Random } from '../../simulator/random.ts'
import { networkOf } from './drawnNetwork.ts'
import {
  type Drawn,
  drawRating,
  G,
  KINDS,
  type Kind,
  NETWORKS,
  type Rating,
  RHO,
  TURN,
  within,
} from './drawnRating.ts'
import { waterOf } from './drawnWater.ts'

/**
 * Plants that nobody tuned anything for: any turbine with any supply and any load that the simulator plays, its ratings
 * drawn within the bands of the trade (common practice, no source, unless a line says otherwise) and consistent with each other.
 */

export interface DrawnMachine {
  plant: Plant
  network: (typeof NETWORKS)[number]
  isPumped: boolean
  inlet: Kind['inlet']
  /** Ratings in SI, speeds at the generator. */
  rated: {
    power: number
    input: number
    head: number
    discharge: number
    speed: number
    runaway: number
    /** Acceleration time J·ω²/P of the power that reaches the shaft [s]. */
    acceleration: number
  }
}

/** @param seed Goes through kinds and networks in turn, so that a few dozen in a row have every pair. */
export function drawMachine(seed: number): DrawnMachine {
  const random = createRandom(seed, 'machine')
  const kind = KINDS[seed % KINDS.length]!
  const network = NETWORKS[Math.floor(seed / KINDS.length) % NETWORKS.length]!
  const isPumped = network !== 'grid' && random() < 0.4
  const isInduction = network === 'grid' && random() < 0.5
  const rating = drawRating(random, { kind, network, isPumped, isInduction })
  const file = fileOf(random, { kind, network, isPumped, isInduction, rating, seed })
  const read = readPlant(JSON.stringify(file), `drawn-${seed}`)
  if ('faults' in read) throw new RangeError(`machine ${seed}: ${JSON.stringify(read.faults)}`)
  const { power, input, head, discharge, speed, runaway, acceleration } = rating
  const rated = { power, input, head, discharge, speed, runaway, acceleration }
  return { plant: read.plant, network, isPumped, inlet: kind.inlet, rated }
}

function fileOf(random: Random, drawn: Drawn) {
  const { network, rating, seed } = drawn
  const { built, sections } = networkOf(random, drawn)
  const water = waterOf(random, drawn)
  return {
    headrace: 1,
    id: `drawn-${seed}`,
    name: `Drawn machine ${seed}`,
    use: network === 'grid' ? 'gridTied' : network === 'island' ? 'offGrid' : 'rig',
    simulated: true,
    ...water.sections,
    ...sections,
    turbine: turbineOf(random, drawn),
    generator: {
      ...sections.generator,
      polePairs: rating.polePairs,
      ratedPower: `${rating.power} W`,
      ratedFrequency: `${rating.frequency} Hz`,
      ratedSpeed: `${rating.speed} rad/s`,
      inertia: `${rating.inertia} kg.m2`,
    },
    instruments: instrumentsOf(rating, drawn),
    simulation: {
      built: { ...water.built, ...built, turbine: { inlet: drawn.kind.inlet, ...built.turbine } },
    },
  }
}

function turbineOf(random: Random, { kind, rating }: Drawn) {
  const jets = kind.inlet === 'jets' || kind.inlet === 'spears' ? 1 + Math.floor(random() * 4) : undefined
  const coefficient = within(random, [0.9, 0.97])
  const area = rating.discharge / (jets ?? 1) / (coefficient * Math.sqrt(2 * G * rating.head))
  const nozzles = { jets, nozzleBore: `${Math.sqrt((4 * area) / Math.PI)} m`, nozzleCoefficient: coefficient }
  const shares = [0.25, 0.5, 0.75] as const
  return {
    kind: kind.kind,
    ...(jets ? nozzles : {}),
    draftTube: kind.kind === 'crossflow',
    ratedNetHead: `${rating.head} m`,
    ratedDischarge: `${rating.discharge} m3/s`,
    ratedSpeed: `${rating.speed / rating.drive.ratio} rad/s`,
    ratedShaftPower: `${rating.input / rating.drive.efficiency} W`,
    runawaySpeed: `${rating.runaway / rating.drive.ratio} rad/s`,
    driveRatio: rating.drive.ratio,
    driveEfficiency: rating.drive.efficiency,
    efficiencyCurve: [
      ...shares.map((share, i) => [share, rating.turbine * kind.shape[i]!]),
      [1, rating.turbine],
    ],
  }
}

/** What nearly every plant has; classes of the trade dossier, section 2.1. */
function instrumentsOf(rating: Rating, { isPumped }: Drawn) {
  const bar = (1.5 * RHO * G * rating.head) / 1e5
  const rows: [role: string, unit: string, highest: number, accuracy: object][] = [
    ['discharge', 'L/s', 1500 * rating.discharge, { reading: '1 %', span: '0.1 %' }],
    ['inletPressure', 'bar', bar, { span: '0.25 %' }],
    ['speed', '/min', (2.8 * rating.speed) / TURN, { reading: '0.05 %' }],
    ['activePower', 'W', 2 * rating.power, { reading: '1 %' }],
    ['frequency', 'Hz', 200, { absolute: 0.02 }],
    ...(isPumped ? [] : ([['headwaterLevel', 'm', 3, { absolute: 0.005 }]] as typeof rows)),
  ]
  return rows.map(([role, unit, highest, accuracy]) => ({
    id: role,
    role,
    topic: `drawn/${role}`,
    unit,
    range: [0, highest],
    accuracy,
    period: '100 ms',
  }))
}
