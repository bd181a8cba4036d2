import type { Instrument, Plant } from '../plant/plant.ts'
import { roleOf } from '../plant/roles.ts'
import type { FigureDescription } from '../wire/figure.ts'
import type { Accumulation } from './accumulations.ts'
import type { Quantity, Way } from './quantity.ts'

/** Constants that are the rated value of a figure. */
const RATED: Record<string, readonly string[]> = {
  netHead: ['turbine.ratedNetHead'],
  discharge: ['turbine.ratedDischarge'],
  speed: ['generator.ratedSpeed', 'turbine.ratedSpeed'],
  turbineSpeed: ['turbine.ratedSpeed'],
  shaftPower: ['turbine.ratedShaftPower'],
  activePower: ['generator.ratedPower'],
  frequency: ['generator.ratedFrequency'],
  phaseVoltage: ['generator.ratedVoltage'],
  phaseCurrent: ['generator.ratedCurrent'],
  meanPhaseVoltage: ['generator.ratedVoltage'],
  meanPhaseCurrent: ['generator.ratedCurrent'],
  dumpPower: ['dump.ratedPower'],
  inverterOutputPower: ['inverter.ratedPower'],
  batteryVoltage: ['battery.ratedVoltage'],
  residualFlow: ['licence.handsOffFlow'],
}

export function describeMeasured(instrument: Instrument, plant: Plant): FigureDescription {
  const { quantity, role, unit, siUnit } = instrument
  const rated = ratedOf(quantity, plant)
  return {
    id: quantity,
    name: instrument.name === role?.name ? role.name + numberOf(quantity, ' ') : instrument.name,
    symbol: role ? role.symbol + numberOf(quantity, '_') : quantity,
    unit: siUnit.code,
    viewUnit: role ? viewUnit(role.view, plant, largest(instrument)) : unit.code,
    group: role?.group ?? 'condition',
    origin: 'measured',
    ...(role?.discrete ? { discrete: true as const } : {}),
    ...(rated === undefined ? {} : { rated }),
    ...rangeOf(instrument),
    staleAfterMs: instrument.periodic ? instrument.staleAfterMs : null,
  }
}

interface Derived {
  quantity: Quantity
  way: Way
  plant: Plant
  inputs: readonly FigureDescription[]
}

export function describeDerived({ quantity, way, plant, inputs }: Derived): FigureDescription {
  const rated = ratedOf(quantity.id, plant)
  const { view = quantity.unit } = quantity
  return {
    id: quantity.id,
    name: quantity.name,
    symbol: quantity.symbol,
    unit: quantity.unit,
    viewUnit: quantity.fixedView ? view : viewUnit(view, plant),
    group: quantity.group,
    origin: way.estimated === undefined ? 'derived' : 'estimated',
    ...(quantity.background ? { background: true as const } : {}),
    ...(rated === undefined ? {} : { rated }),
    staleAfterMs: slowest(inputs),
  }
}

export function describeAccumulated(
  { id, name, symbol, unit, view = unit, group }: Accumulation,
  plant: Plant,
  inputs: readonly FigureDescription[],
): FigureDescription {
  const head = { id, name, symbol, unit, viewUnit: viewUnit(view, plant), group }
  return { ...head, origin: 'counted', staleAfterMs: slowest(inputs) }
}

/** Rated value of a figure in SI, where the plant file gives one. */
export function ratedOf(id: string, plant: Plant): number | undefined {
  const family = id.split('.')[0]!
  const paths = Object.hasOwn(RATED, family) ? RATED[family]! : []
  return paths.map((path) => plant.constants.get(path)).find((value) => value !== undefined)
}

/** Large machines are read in kW and m³/s, small ones in W and L/s. */
function viewUnit(view: string, plant: Plant, range?: number): string {
  const power =
    plant.generator?.ratedPower ?? plant.turbine?.ratedShaftPower ?? (view === 'W' ? range : 0) ?? 0
  const flow = plant.turbine?.ratedDischarge ?? (view === 'L/s' ? range : 0) ?? 0
  if (view === 'W') return power >= 10_000 ? 'kW' : 'W'
  if (view === 'var') return power >= 10_000 ? 'kvar' : 'var'
  if (view === 'L/s') return flow >= 0.2 ? 'm3/s' : 'L/s'
  return view
}

/** Upper end of the measuring range in SI. */
function largest({ range, unit }: Instrument): number | undefined {
  return range && range[1] * unit.factor
}

function rangeOf({ range, unit }: Instrument): { low?: number; high?: number } {
  if (!range) return {}
  return { low: range[0] * unit.factor + unit.offset, high: range[1] * unit.factor + unit.offset }
}

/** "jetOpen.2" → " 2": what follows the name or symbol of a role that several instruments may have. */
function numberOf(quantity: string, joint: string): string {
  const number = roleOf(quantity)?.many ? quantity.split('.')[1] : undefined
  return number === undefined ? '' : `${joint}${number}`
}

/** What follows only from things sent on change, or from constants, does not grow stale by itself. */
function slowest(inputs: readonly FigureDescription[]): number | null {
  const limits = inputs.flatMap((input) => input.staleAfterMs ?? [])
  return limits.length === 0 ? null : Math.max(...limits)
}
