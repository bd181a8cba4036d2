import { findUnit, isConvertible, siUnitOf, unitOf, unitsLike } from '../wire/units.ts'
import { assumedAccuracy } from './assumedAccuracy.ts'
import { CONSTANT_SECTIONS } from './constants.ts'
import { findImpossible } from './impossible.ts'
import { nearestRoles } from './nearRoles.ts'
import type { Instrument, Plant, PlantFault } from './plant.ts'
import { readPlusMinus, type WrittenError } from './plusMinus.ts'
import { type Role, roleOf } from './roles.ts'
import type { InstrumentFile, PlantFile } from './schema.ts'
import { nearUnits } from './unitNames.ts'

const SHORTEST_STALE_MS = 5000

/**
 * Checks what one field alone cannot tell (units that fit, ids that are unique) and builds the plant; where there are faults,
 * from what is sound.
 */
export function buildPlant(
  file: PlantFile,
  name: string,
  written: ReadonlyMap<string, WrittenError>,
): { plant: Plant; faults: PlantFault[]; lost: ReadonlySet<string> } {
  const { stated, faults } = readPlusMinus(written)
  const built = file.instruments.flatMap((one, i) => buildInstrument(one, `instruments[${i}]`, faults))
  const instruments = [...new Map(built.map((one) => [one.quantity, one])).values()]
  checkUnique({ ids: file.instruments.map((one) => one.id), section: 'instruments', field: 'id' }, faults)
  checkQuantities(file.instruments, faults)
  for (const section of ['alarms', 'figures'] as const)
    checkUnique({ ids: file[section].map((one) => one.id), section, field: 'id' }, faults)
  if (file.simulation && !file.simulated)
    faults.push({
      path: 'simulation',
      received: 'a simulation section',
      expected: '"simulated: true", or no such section: a real plant is never commanded',
    })
  for (const [path, curve] of Object.entries(curvesOf(file))) checkCurve(curve, path, faults)
  checkRelations(file.relations, faults)
  const constants = constantsOf(file)
  faults.push(...findImpossible(file, constants))
  const has = new Set(instruments.map((one) => one.quantity))
  const lost = new Set(file.instruments.map((one) => one.role ?? one.id).filter((id) => !has.has(id)))
  return { plant: { ...file, instruments, constants, plusMinus: stated, file: name }, faults, lost }
}

function buildInstrument(one: InstrumentFile, path: string, faults: PlantFault[]): Instrument[] {
  const before = faults.length
  const unit = findUnit(one.unit)
  const role = one.role === undefined ? undefined : roleOf(one.role)
  checkRole(one.role, `${path}.role`, faults)
  checkUnit(one, `${path}.unit`, faults)
  checkReach(one, path, faults)
  if (faults.length > before || !unit) return []
  const assumed = assumedAccuracy(role, unit, one.range)
  return [
    {
      id: one.id,
      name: one.name ?? role?.name ?? one.id,
      quantity: one.role ?? one.id,
      role,
      topic: one.topic,
      payload: one.payload,
      unit,
      siUnit: role ? unitOf(role.unit) : siUnitOf(unit),
      scale: one.scale,
      range: one.range,
      accuracy: one.accuracy ?? assumed?.accuracy,
      ...(one.accuracy || !assumed ? {} : { assumed: assumed.source }),
      periodMs: one.period,
      staleAfterMs: one.staleAfter ?? Math.max(3 * one.period, SHORTEST_STALE_MS),
      periodic: one.periodic,
    },
  ]
}

function checkRole(given: string | undefined, path: string, faults: PlantFault[]): void {
  if (given === undefined) return
  const role = roleOf(given)
  const received = `"${given}"`
  if (!role) faults.push({ path, received, expected: `a role: ${nearestRoles(given)}` })
  else if (!role.many && given.includes('.'))
    faults.push({ path, received, expected: `"${role.id}" without a number` })
}

function checkUnit(one: InstrumentFile, path: string, faults: PlantFault[]): void {
  const unit = findUnit(one.unit)
  const role = one.role === undefined ? undefined : roleOf(one.role)
  const received = `"${one.unit}"`
  if (!unit) faults.push({ path, received, expected: unitExpected(one.unit, role) })
  else if (role && !isConvertible(unit, unitOf(role.unit)))
    faults.push({
      path,
      received,
      expected: `a unit of ${role.name.toLowerCase()}: ${unitsLike(unitOf(role.unit)).join(', ')}`,
    })
}

function unitExpected(given: string, role: Role | undefined): string {
  const like = role && unitOf(role.unit)
  const near = nearUnits(given, like).map((code) => `"${code}"`)
  const hint = near.length === 0 ? '' : ` (did you mean ${near.join(' or ')}?)`
  return like
    ? `a unit of ${role.name.toLowerCase()}: ${unitsLike(like).join(', ')}${hint}`
    : `a UCUM unit code such as "bar", "L/s", "/min", "Cel", "1"${hint}`
}

/** The range, and what refers to it. */
function checkReach(one: InstrumentFile, path: string, faults: PlantFault[]): void {
  if (one.range && one.range[0] >= one.range[1])
    faults.push({ path: `${path}.range`, received: JSON.stringify(one.range), expected: 'low before high' })
  if (one.scale?.kind === 'loop' && !one.range)
    faults.push({ path: `${path}.range`, received: 'nothing', expected: 'the range that 4 … 20 mA spans' })
  if (one.scale?.kind === 'points') checkPoints(one.scale, path, faults)
  if (one.accuracy?.span !== undefined && !one.range)
    faults.push({
      path: `${path}.range`,
      received: 'nothing',
      expected: 'a range, since accuracy.span refers to it',
    })
}

function checkPoints(scale: { from: number[]; to: number[] }, path: string, faults: PlantFault[]): void {
  if (scale.from.length !== scale.to.length)
    faults.push({
      path: `${path}.scale.to`,
      received: `${scale.to.length} numbers`,
      expected: `${scale.from.length}, as many as in "from"`,
    })
  if (scale.from.some((x, i) => i > 0 && x <= scale.from[i - 1]!))
    faults.push({
      path: `${path}.scale.from`,
      received: JSON.stringify(scale.from),
      expected: 'ascending numbers',
    })
}

function curvesOf({ turbine, generator, inverter, pump, forebay }: PlantFile) {
  return {
    'turbine.efficiencyCurve': turbine?.efficiencyCurve,
    'turbine.nozzleCurve': turbine?.nozzleCurve,
    'generator.efficiencyCurve': generator?.efficiencyCurve,
    'inverter.efficiencyCurve': inverter?.efficiencyCurve,
    'pump.headCurve': pump?.headCurve,
    'forebay.volumeCurve': forebay?.volumeCurve,
  }
}

function checkCurve(curve: [number, number][] | undefined, path: string, faults: PlantFault[]): void {
  if (curve?.some(([x], i) => i > 0 && x <= curve[i - 1]![0]))
    faults.push({ path, received: JSON.stringify(curve), expected: 'points with ascending first numbers' })
}

function checkRelations(shares: PlantFile['relations'], faults: PlantFault[]): void {
  for (const [id, share] of Object.entries(shares))
    if (share <= 0 || share > 1)
      faults.push({
        path: `relations.${id}`,
        received: String(share),
        expected: 'a share above 0, at most 1',
      })
}

function checkUnique(
  { ids, section, field }: { ids: string[]; section: string; field: string },
  faults: PlantFault[],
): void {
  ids.forEach((id, i) => {
    if (ids.indexOf(id) < i) {
      const path = `${section}[${i}].${field}`
      faults.push({ path, received: `"${id}" again`, expected: 'each only once' })
    }
  })
}

/** What two instruments would both supply: each figure has one instrument. */
function checkQuantities(instruments: readonly InstrumentFile[], faults: PlantFault[]): void {
  const quantities = instruments.map((one) => one.role ?? one.id)
  quantities.forEach((quantity, i) => {
    const first = quantities.indexOf(quantity)
    // an id that is there twice is told as such
    if (first === i || instruments[first]!.id === instruments[i]!.id) return
    const { role } = instruments[i]!
    const known = role === undefined ? undefined : roleOf(role)
    const path = role === undefined ? `instruments[${i}].id` : `instruments[${i}].role`
    faults.push({ path, received: `"${quantity}" again`, expected: onceExpected(known, instruments[first]!) })
  })
}

function onceExpected(role: Role | undefined, { id }: InstrumentFile): string {
  if (!role) return `each only once, and "${id}" has it already`
  return role.many
    ? `each only once, and "${id}" has it already: number them "${role.id}.1", "${role.id}.2", …`
    : `each only once, and "${id}" has it already: one instrument without a role is shown and stored under its id`
}

function constantsOf(file: PlantFile): Map<string, number> {
  const constants = new Map<string, number>()
  const collect = (prefix: string, section: object | undefined) => {
    for (const [key, value] of Object.entries(section ?? {})) {
      if (typeof value === 'number') constants.set(`${prefix}.${key}`, value)
      else if (value !== null && typeof value === 'object' && !Array.isArray(value))
        collect(`${prefix}.${key}`, value)
    }
  }
  for (const section of CONSTANT_SECTIONS) collect(section, file[section])
  for (const zero of ['headwaterZero', 'tailwaterZero'])
    if (!constants.has(`site.elevations.${zero}`)) constants.set(`site.elevations.${zero}`, 0)
  return constants
}
