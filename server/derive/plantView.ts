import type { Plant, PlantFault } from '../plant/plant.ts'
import type { PathNode, PlantDoubt, PlantView, SimulatorControl } from '../wire/plant.ts'
import { cautionsFor } from './cautions.ts'
import type { Plan } from './plan.ts'

/** Shown first where the plant file does not say, most telling first; those the plant lacks are left out. */
const KEY_FIGURES = [
  'activePower',
  'netHead',
  'discharge',
  'hydraulicPower',
  'turbineEfficiency',
  'waterToWireEfficiency',
  'speed',
  'frequency',
  'stateOfCharge',
]

const TRENDS = ['activePower', 'discharge', 'netHead', 'speed', 'waterToWireEfficiency']

const MOST_KEY_FIGURES = 8

interface Place {
  id: string
  name: string
  figures: string[]
  details: string[]
  from: string[]
  /** By the place that the power comes from. */
  loss?: Record<string, string>
}

/** The way of the power from the water to the loads; a plant gets the places that it can know something of. */
const PATH: Place[] = [
  { id: 'pump', name: 'Pump', figures: ['pumpInputPower'], details: ['pumpSpeed', 'pumpHead'], from: [] },
  {
    id: 'water',
    name: 'Water at the turbine',
    figures: ['hydraulicPower'],
    details: ['netHead', 'discharge'],
    from: ['pump'],
    loss: { pump: 'pumpSetLoss' },
  },
  {
    id: 'shaft',
    name: 'Shaft',
    figures: ['shaftPower'],
    details: ['speed', 'torque', 'turbineEfficiency'],
    from: ['water'],
    loss: { water: 'turbineLoss' },
  },
  {
    id: 'generator',
    name: 'Generator',
    figures: ['activePower'],
    details: ['frequency', 'generatorEfficiency'],
    from: ['shaft', 'water'],
    loss: { shaft: 'generatorLoss' },
  },
  {
    id: 'rectifier',
    name: 'Rectifier and charger',
    figures: ['rectifierPower'],
    details: ['dcVoltage', 'dcCurrent'],
    from: ['generator'],
    loss: { generator: 'rectifierLoss' },
  },
  {
    id: 'battery',
    name: 'Battery',
    figures: ['batteryPower'],
    details: ['batteryVoltage', 'stateOfCharge'],
    from: ['rectifier', 'generator'],
  },
  {
    id: 'dump',
    name: 'Dump load',
    figures: ['dumpPower'],
    details: ['dumpShare', 'dumpTemperature'],
    from: ['rectifier', 'generator'],
  },
  {
    id: 'inverter',
    name: 'Inverter',
    figures: ['inverterInputPower', 'inverterOutputPower'],
    details: ['inverterOutputPower', 'inverterEfficiency'],
    from: ['rectifier', 'generator'],
  },
  { id: 'loads', name: 'Loads', figures: ['loadPower'], details: [], from: ['inverter', 'generator'] },
]

/** Everything about a plant that does not change while it is watched. */
export function describePlant(plan: Plan): PlantView {
  const { plant } = plan
  const has = (figure: string) => plan.indexOf.has(figure)
  return {
    id: plant.id,
    name: plant.name,
    summary: plant.summary,
    simulated: plant.simulated,
    timeZone: plant.site.timeZone,
    figures: plan.nodes.map((node) => node.description),
    missing: plan.missing,
    doubts: doubtViews(plant.doubts ?? []),
    keyFigures: (plant.show.keyFigures ?? KEY_FIGURES)
      .filter(has)
      .slice(0, plant.show.keyFigures ? 12 : MOST_KEY_FIGURES),
    trends: (plant.show.trends ?? TRENDS).filter(has),
    path: pathOf(has),
    controls: controlsOf(plant),
    cautions: cautionsFor(plant),
  }
}

function pathOf(has: (figure: string) => boolean): PathNode[] {
  const known = PATH.flatMap((place) => {
    const figure = place.figures.find(has)
    return figure === undefined ? [] : [{ ...place, figure }]
  })
  return known.map(({ id, name, figure, details, from, loss }) => {
    const before = from.find((source) => known.some((place) => place.id === source)) ?? null
    const lost = loss?.[before ?? '']
    return {
      id,
      name,
      figure,
      from: before,
      details: details.filter((detail) => has(detail) && detail !== figure),
      loss: lost !== undefined && has(lost) ? lost : null,
    }
  })
}

/** Commands exist for simulated plants only; a real plant is never commanded. */
function controlsOf({ simulated, simulation }: Plant): SimulatorControl[] {
  return simulated ? (simulation?.controls ?? []).map(({ topic: _topic, ...shown }) => shown) : []
}

/** The commissioning check for people. */
export function doubtViews(doubts: readonly PlantFault[]): PlantDoubt[] {
  return doubts.map(({ kind, path, line = null, received, expected }) => ({
    kind: kind ?? 'doubtful',
    path,
    line,
    received,
    expected,
  }))
}
