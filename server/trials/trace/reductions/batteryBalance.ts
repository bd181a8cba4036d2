import { divisorOf, limitAt } from '../../../derive/instrumentUncertainty.ts'
import { NORMAL_95 } from '../../../statistics/normal.ts'
import type { TraceAmount, TraceCurve, TraceResult } from '../../../wire/trace.ts'
import type { Series } from '../readings.ts'
import { type ChargeCount, countCharge, valuesAt } from './chargeCount.ts'
import { partBetween, spread } from './localFit.ts'
import {
  amount,
  curveOverTime,
  errorsOf,
  lacking,
  limitsOf,
  meansOf,
  type Reduced,
  type Reduction,
  type ReductionContext,
  summaryOf,
  type TraceInput,
  withInterval,
} from './reduction.ts'

/** Closed when the state of charge has returned to within this share of the capacity. */
const CLOSED = 0.01
/** State of charge is averaged over so long at both ends [ms]. */
const END_MS = 60_000
const MOST_DRAWN = 400

/**
 * Charge and energy by the trapezoidal rule between readings; nothing is counted across gaps.
 *
 * The shunt errs by one r·(|I|·reading + fixed) all the time, so what it adds to what goes in it takes from what comes
 * out: the error of the net is the sum of both, and averaging does not reduce it.
 *
 * Source: definition of charge and energy; JCGM 100:2008, 4.3 (type B).
 */
export const batteryBalance: Reduction = {
  id: 'batteryBalance',
  one: reduceOne,
  together,
  method: [
    'Charge: ∫I dt by the trapezoidal rule, in where the current is positive, out where it is negative, split where it changes sign.',
    'Energy: ∫U·I dt with the voltage at the time of the current. Nothing is counted across gaps longer than 5 s.',
    'Efficiencies only when the state of charge has returned to within 1 % of the capacity; what is left of its change is counted.',
    'Uncertainty: limits of error of the shunt over √3, the same all the time; of the change of state of charge from its scatter and resolution.',
  ],
}

function reduceOne({ series }: TraceInput, context: ReductionContext): TraceResult {
  const [current, voltage] = [series['batteryCurrent'], series['batteryVoltage']]
  if (!current || !voltage || current.at.length < 3)
    return lacking('Too few readings of current and voltage.')
  const counted = countCharge(current, voltage, limitsOf(context, 'batteryCurrent'))
  const charge = stateChange(series['stateOfCharge'], counted, context)
  const zeroAt = current.at[0]!
  return {
    isReduced: true,
    zeroAt,
    amounts: amountsOf(counted, charge, context),
    remarks: [charge.words, ...gapWords(counted)],
    curves: curvesOf({ current, voltage, zeroAt }, counted, {
      start: charge.start,
      capacity: context.method.constants['capacity'] ?? Number.NaN,
    }),
  }
}

const CHARGE = { unit: 'C', viewUnit: 'A.h' }
const ENERGY = { unit: 'J', viewUnit: 'W.h' }

function amountsOf(counted: ChargeCount, charge: StateChange, context: ReductionContext): TraceAmount[] {
  const { chargeIn, chargeOut, energyIn, energyOut, limitIn, limitOut } = counted
  const u = 1 / divisorOf(limitsOf(context, 'batteryCurrent'))
  const shunt = (limit: number) => ({ u95: NORMAL_95 * u * limit })
  const both = (energy: number) => ({ u95: energyError(energy, counted, context) })
  return [
    amount({ id: 'chargeIn', name: 'Charge in', symbol: 'Q_in', ...CHARGE }, chargeIn, shunt(limitIn)),
    amount({ id: 'chargeOut', name: 'Charge out', symbol: 'Q_out', ...CHARGE }, chargeOut, shunt(limitOut)),
    amount(
      { id: 'chargeNet', name: 'Charge, net', symbol: 'Q', ...CHARGE },
      chargeIn - chargeOut,
      shunt(limitIn + limitOut),
    ),
    amount({ id: 'energyIn', name: 'Energy in', symbol: 'E_in', ...ENERGY }, energyIn, both(energyIn)),
    amount({ id: 'energyOut', name: 'Energy out', symbol: 'E_out', ...ENERGY }, energyOut, both(energyOut)),
    ...efficiencies(counted, charge, u),
    amount(
      { id: 'counted', name: 'Time that could be counted', symbol: 'c', unit: '1', viewUnit: '%' },
      counted.counted / counted.total,
    ),
  ]
}

interface StateChange {
  /** Change of stored charge [C] and its standard uncertainty; NaN where the state of charge is not known. */
  change: number
  standard: number
  isClosed: boolean
  /** State of charge at the start, 0 … 1; NaN where not known. */
  start: number
  words: string
}

/** Whether the battery is back where it was: by its state of charge, or else by what was counted. */
function stateChange(
  gauge: Series | undefined,
  counted: ChargeCount,
  context: ReductionContext,
): StateChange {
  const capacity = context.method.constants['capacity'] ?? Number.NaN
  const net = counted.chargeIn - counted.chargeOut
  const ends = gauge && endsOf(gauge)
  const change = ends ? (ends.last.mean - ends.first.mean) * capacity : net
  const rounding = limitsOf(context, 'stateOfCharge').resolution / Math.sqrt(12)
  const standard = ends
    ? capacity * Math.hypot(ends.first.error, ends.last.error, rounding)
    : (CLOSED * capacity) / Math.sqrt(3)
  const isClosed = Math.abs(change) <= CLOSED * capacity
  const hours = Math.abs(change / 3600).toFixed(2)
  const side = change > 0 ? 'above' : 'below'
  const source = ends ? 'state of charge' : 'counted charge'
  const words = Number.isNaN(change)
    ? 'Not closed: neither the state of charge nor the capacity is known.'
    : isClosed
      ? `Closed: it ended ${hours} Ah ${side} the start (${source}), within 1 % of the capacity.`
      : `Not closed: ended ${hours} Ah ${side} the start (${source}). No efficiency can be told.`
  return {
    change: isClosed ? (ends ? change : 0) : change,
    standard,
    isClosed,
    start: ends ? ends.first.mean : Number.NaN,
    words,
  }
}

function endsOf(gauge: Series) {
  const [from, to] = [gauge.at[0], gauge.at.at(-1)]
  if (from === undefined || to === undefined || to - from < 2 * END_MS) return undefined
  return {
    first: summaryOf(partBetween(gauge, from, from + END_MS).value),
    last: summaryOf(partBetween(gauge, to - END_MS, to).value),
  }
}

/** (out + what is left in store)/in; the shunt's error moves out and in against each other. */
function efficiencies(
  counted: ChargeCount,
  { change, standard, isClosed }: StateChange,
  u: number,
): TraceAmount[] {
  const { chargeIn, chargeOut, energyIn, energyOut, limitIn, limitOut } = counted
  const isTold = isClosed && chargeIn > 0 && chargeOut > 0
  const words = isClosed ? 'it has to be charged and discharged' : 'not closed'
  const mean = (energyIn + energyOut) / (chargeIn + chargeOut)
  const rows = [
    { id: 'coulombic', name: 'Efficiency in charge', symbol: 'η_C', value: (chargeOut + change) / chargeIn },
    {
      id: 'energetic',
      name: 'Efficiency in energy',
      symbol: 'η_E',
      value: (energyOut + change * mean) / energyIn,
    },
  ]
  return rows.map(({ id, name, symbol, value }) => {
    const text = { id, name, symbol, unit: '1', viewUnit: '%' }
    if (!isTold) return amount(text, null, { words })
    const relative = Math.hypot((u * (limitOut + value * limitIn)) / chargeIn, standard / chargeIn)
    return amount(text, value, { u95: NORMAL_95 * relative })
  })
}

/** Of the shunt and of the voltmeter, which is at its mean over what was counted. */
function energyError(
  energy: number,
  { limitIn, limitOut, chargeIn, chargeOut, energyIn, energyOut }: ChargeCount,
  context: ReductionContext,
): number {
  const charge = chargeIn + chargeOut
  if (charge === 0) return 0
  const [current, voltage] = [limitsOf(context, 'batteryCurrent'), limitsOf(context, 'batteryVoltage')]
  const mean = (energyIn + energyOut) / charge
  const ofCurrent = (limitIn + limitOut) / (divisorOf(current) * charge)
  const ofVoltage = limitAt(voltage, mean) / (divisorOf(voltage) * mean)
  return NORMAL_95 * energy * Math.hypot(ofCurrent, ofVoltage)
}

function gapWords({ counted, total }: ChargeCount): string[] {
  const missing = total - counted
  if (missing < 1) return []
  return [`${Math.round(missing)} s without readings were not counted: gaps stay gaps.`]
}

interface Drawn {
  current: Series
  voltage: Series
  zeroAt: number
}

function curvesOf(
  { current, voltage, zeroAt }: Drawn,
  { net }: ChargeCount,
  { start, capacity }: { start: number; capacity: number },
): TraceCurve[] {
  const places = spread(current.at.length, MOST_DRAWN)
  const x = places.map((i) => (current.at[i]! - zeroAt) / 1000)
  const charge = {
    id: 'net',
    kind: 'other',
    name: 'Net charge',
    yName: 'Charge',
    unit: 'C',
    viewUnit: 'A.h',
  } as const
  const volts = valuesAt(
    voltage,
    places.map((i) => current.at[i]!),
  )
  const known = places.flatMap((i, k) =>
    Number.isNaN(volts[k]!) ? [] : [{ charge: net[i]!, volts: volts[k]! }],
  )
  const isState = !Number.isNaN(start + capacity)
  const along = isState
    ? { xName: 'State of charge', xUnit: '1', xViewUnit: '%' }
    : { xName: 'Net charge', xUnit: 'C', xViewUnit: 'A.h' }
  return [
    curveOverTime({ ...charge, x, y: places.map((i) => net[i]!) }),
    {
      id: 'voltage',
      kind: 'other',
      name: `Voltage over ${along.xName.toLowerCase()}`,
      yName: 'Voltage',
      unit: 'V',
      viewUnit: 'V',
      ...along,
      x: known.map((one) => (isState ? start + one.charge / capacity : one.charge)),
      y: known.map((one) => one.volts),
    },
  ]
}

function together(results: readonly Reduced[], { method }: ReductionContext) {
  const amounts = meansOf(results).map((one) => {
    const errors = errorsOf(results, one.id)
    // One shunt for all: what it is off by is the same in each, and no mean of traces reduces it.
    return withInterval(one, errors.length === 0 ? null : Math.max(...errors), {
      expected: one.id === 'coulombic' ? method.constants['chargeEfficiency'] : undefined,
      from: 'plant file',
      words: (_, isInside) =>
        isInside
          ? 'The plant file’s value lies within the interval.'
          : 'It differs from the plant file’s value.',
    })
  })
  return { lacking: results.length === 0 ? 'Nothing is counted yet.' : '', amounts, remarks: [] }
}
