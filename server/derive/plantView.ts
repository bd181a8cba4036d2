import type { Plant } from '../plant/plant.ts'
import type { PathNode, PlantView, SimulatorControl } from '../wire/plant.ts'
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

/** The way of the power from the water to the loads; a plant gets the places that it can know something of. */
const PATH: (Omit<PathNode, 'figure' | 'details'> & { figures: string[]; details: string[] })[] = [
  { id: 'pump', name: 'Pump', figures: ['pumpInputPower'], details: ['pumpSpeed', 'pumpHead'] },
  {
    id: 'water',
    name: 'Water at the turbine',
    figures: ['hydraulicPower'],
    details: ['netHead', 'discharge'],
  },
  { id: 'shaft', name: 'Shaft', figures: ['shaftPower'], details: ['speed', 'torque', 'turbineEfficiency'] },
  {
    id: 'generator',
    name: 'Generator',
    figures: ['activePower'],
    details: ['frequency', 'generatorEfficiency'],
  },
  {
    id: 'rectifier',
    name: 'Rectifier and charger',
    figures: ['rectifierPower'],
    details: ['dcVoltage', 'dcCurrent'],
  },
  { id: 'battery', name: 'Battery', figures: ['batteryPower'], details: ['batteryVoltage', 'stateOfCharge'] },
  { id: 'dump', name: 'Dump load', figures: ['dumpPower'], details: ['dumpShare', 'dumpTemperature'] },
  {
    id: 'inverter',
    name: 'Inverter',
    figures: ['inverterOutputPower', 'inverterInputPower'],
    details: ['inverterEfficiency'],
  },
  { id: 'loads', name: 'Loads', figures: ['loadPower'], details: [] },
  { id: 'grid', name: 'Grid', figures: ['exportedPower'], details: ['gridConnected', 'powerFactor'] },
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
  return PATH.flatMap(({ id, name, figures, details }) => {
    const figure = figures.find(has) ?? null
    return figure === null ? [] : [{ id, name, figure, details: details.filter(has) }]
  })
}

/** Commands exist for simulated plants only; a real plant is never commanded. */
function controlsOf(plant: Plant): SimulatorControl[] {
  if (!plant.simulated) return []
  return (plant.simulation?.controls ?? []).map((control) => {
    const { id, name, kind, min, max, step, unit, choices, figure, initial } = control
    return {
      ...{ id, name, kind, initial },
      ...(min === undefined ? {} : { min }),
      ...(max === undefined ? {} : { max }),
      ...(step === undefined ? {} : { step }),
      ...(unit === undefined ? {} : { unit }),
      ...(choices === undefined ? {} : { choices }),
      ...(figure === undefined ? {} : { figure }),
    }
  })
}
