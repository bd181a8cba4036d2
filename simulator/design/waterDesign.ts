import type { Plant } from '../../server/plant/plant.ts'
import type { OutletDesign } from '../plants/outlet.ts'
import type { PondDesign } from '../plants/pond.ts'
import { pumpShaftPower } from '../plants/pump.ts'
import type { SumpDesign } from '../plants/sump.ts'
import type { WaterDesign } from '../plants/water.ts'
import type { Built } from './built.ts'
import type { Given, Sources } from './given.ts'
import { pumpDesign } from './pumpDesign.ts'

const IMPULSE = ['pelton', 'turgo', 'crossflow']
/** Strokes [s] of what lets the water in (common practice, no source). */
const STROKE = { jets: 0.06, spears: 15, vanes: 10, none: 1 }
/**
 * Change of reduced discharge with reduced speed: a radial runner throttles what runs through it the faster it turns, an
 * axial one draws more (from memory, middle of the usual span).
 */
const SPEED_EFFECT: Record<string, number> = {
  francis: -0.2,
  pumpAsTurbine: -0.3,
  kaplan: 0.2,
  propeller: 0.3,
}

export function waterDesign(plant: Plant, sources: Sources): WaterDesign {
  const { given, built } = sources
  const { site, turbine } = plant
  const bore = given.need('penstock.bore')
  const outlet = outletElevation(plant, sources)
  return {
    density: given.need('site.waterDensity'),
    supply: built.sump ? sumpDesign(plant, sources) : pondDesign(plant, sources),
    pipe: {
      bore,
      length: given.need('penstock.length'),
      roughness: given.need('penstock.roughness'),
      minorLoss: plant.penstock?.minorLoss ?? 0,
      viscosity: viscosityOf(site.waterTemperature) / given.need('site.waterDensity'),
      gravity: given.need('site.gravity'),
    },
    throttle: throttleDesign(plant, sources),
    discharge: given.need('turbine.ratedDischarge'),
    outlet: outletDesign(plant, sources),
    tapping: {
      bore: turbine?.inletBore ?? bore,
      height: (site.elevations.inletGauge ?? site.elevations.turbine ?? outlet) - outlet,
    },
    deflector: built.overSpeed?.deflector && {
      rate: 1 / built.overSpeed.deflector.strokeTime,
      returnRate: 1 / built.overSpeed.deflector.returnTime,
    },
  }
}

/** Where the head ends: at the jets of an impulse machine, at the tailwater or the water in the sump of every other one. */
function outletElevation(plant: Plant, { given, built }: Sources): number {
  const { site, turbine } = plant
  const isFree = IMPULSE.includes(turbine?.kind ?? '') && turbine?.draftTube !== true
  if (isFree) return given.need('site.elevations.turbine')
  if (built.sump) return sumpElevation(given) + built.sump.level
  return (site.elevations.tailwaterZero ?? 0) + (built.pond?.tailwaterLevel ?? 0)
}

/** Zero of the sump's gauge. */
function sumpElevation(given: Given): number {
  return given.need('site.elevations.pumpGauge') - given.need('pump.gaugeRise')
}

function sumpDesign(plant: Plant, sources: Sources): SumpDesign {
  const { given, built } = sources
  const { level = Number.NaN, area = 1, warming = { rise: 0, timeConstant: 1 } } = built.sump ?? {}
  const specificWeight = given.need('site.waterDensity') * given.need('site.gravity')
  const discharge = given.need('turbine.ratedDischarge')
  const pump = pumpDesign(plant, sources)
  return {
    kind: 'sump',
    specificWeight,
    pump,
    strainer: { loss: built.rackLoss, atDischarge: discharge },
    lift: outletElevation(plant, sources) - sumpElevation(given) - level,
    gauge: given.need('pump.gaugeRise') - level,
    level,
    area,
    ratedHead: given.need('turbine.ratedNetHead'),
    waterTemperature: plant.site.waterTemperature,
    warming,
    ratedHeat: pumpShaftPower(pump, 1, { discharge, specificWeight }),
  }
}

function throttleDesign(plant: Plant, { built }: Sources): WaterDesign['throttle'] {
  const isNeeded = inletOf(plant, built) === 'none'
  const throttle =
    built.throttle ?? (isNeeded ? { openLoss: 2, rangeability: 50, strokeTime: 15 } : undefined)
  if (!throttle) return undefined
  const { strokeTime, ...valve } = throttle
  return { ...valve, rate: 1 / strokeTime, shutsOnStop: isNeeded && !built.sump }
}

function pondDesign(plant: Plant, sources: Sources): PondDesign {
  const { given, built } = sources
  const { pond } = built
  if (!pond) given.fault('simulation.built.pond', 'nothing', 'the pond that the water comes from')
  const discharge = given.need('turbine.ratedDischarge')
  const level = pond?.level ?? Number.NaN
  const reservoir = {
    area: given.need('forebay.area'),
    sluiceFlow: pond?.sluiceFlow ?? 0,
    sluiceLevel: level,
    crest: given.need('spillway.crest'),
    crestWidth: given.need('spillway.width'),
    weirCoefficient: plant.spillway?.coefficient ?? Number.NaN,
  }
  return {
    kind: 'pond',
    specificWeight: given.need('site.waterDensity') * given.need('site.gravity'),
    reservoir,
    rack: { loss: built.rackLoss, atDischarge: discharge },
    isGaugeBehindRack: plant.instruments.some((one) => one.quantity === 'rackUpstreamLevel'),
    height: (plant.site.elevations.headwaterZero ?? 0) - outletElevation(plant, sources),
    tailwaterLevel: pond?.tailwaterLevel ?? 0,
    waterTemperature: plant.site.waterTemperature,
    waves: { sigma: pond?.waves.height ?? 0, timeConstant: pond?.waves.period ?? 1 },
    level,
    inflow: { id: pond?.inflow ?? 'stream', initial: discharge + reservoir.sluiceFlow },
  }
}

function outletDesign(plant: Plant, { given, built }: Sources): OutletDesign {
  const { turbine, penstock } = plant
  const head = given.need('turbine.ratedNetHead')
  const kind = inletOf(plant, built)
  const jets = turbine?.jets ?? 1
  const total = built.turbine.cells.reduce((sum, share) => sum + share, 0)
  const isJet = kind === 'jets' || kind === 'spears'
  const { strokeTime = STROKE[kind] } = built.turbine
  return {
    kind,
    shares: isJet ? Array(jets).fill(1 / jets) : built.turbine.cells.map((share) => share / total),
    discharge:
      (isJet ? nozzleDischarge({ turbine, given, head }) : undefined) ?? given.need('turbine.ratedDischarge'),
    head,
    flowOverStroke: kind === 'spears' ? relative(turbine?.nozzleCurve) : undefined,
    rate: 1 / strokeTime,
    closingRate: 1 / (penstock?.closingTime ?? strokeTime),
    efficiency: turbine?.efficiencyCurve ?? missingCurve(given),
    jetEfficiency: built.turbine.jetEfficiency,
    speedEffect: built.turbine.speedEffect ?? SPEED_EFFECT[turbine?.kind ?? ''] ?? 0,
  }
}

/** n · C_d · A · √(2gH), where bore and coefficient of the nozzles are given [m³/s]. */
function nozzleDischarge({
  turbine,
  given,
  head,
}: Pick<Plant, 'turbine'> & { given: Sources['given']; head: number }): number | undefined {
  if (turbine?.nozzleBore === undefined || turbine.nozzleCoefficient === undefined) return undefined
  const area = (Math.PI / 4) * turbine.nozzleBore ** 2
  const velocity = Math.sqrt(2 * given.need('site.gravity') * head)
  return (turbine.jets ?? 1) * turbine.nozzleCoefficient * area * velocity
}

function inletOf({ turbine }: Plant, built: Built): OutletDesign['kind'] {
  if (built.turbine.inlet) return built.turbine.inlet
  if (turbine?.kind === 'pelton' || turbine?.kind === 'turgo') return 'spears'
  return turbine?.kind === 'pumpAsTurbine' ? 'none' : 'vanes'
}

function relative(curve: [number, number][] | undefined): [number, number][] | undefined {
  const full = curve?.at(-1)?.[1]
  return full === undefined ? undefined : curve!.map(([stroke, coefficient]) => [stroke, coefficient / full])
}

function missingCurve({ fault }: Sources['given']): [number, number][] {
  fault('turbine.efficiencyCurve', 'nothing', 'a curve, for the simulator plays with it')
  return [[1, 1]]
}

/** Dynamic viscosity of water [Pa·s]: 2.414·10⁻⁵ · 10^(247.8/(T − 140)), T in K, 0 … 100 °C (from memory; ± 1 %). */
function viscosityOf(temperature: number): number {
  return 2.414e-5 * 10 ** (247.8 / (temperature - 140))
}
