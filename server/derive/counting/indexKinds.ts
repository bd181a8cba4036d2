/** What follows from counters over a period. */
export interface IndexKind {
  id: string
  name: string
  /** UCUM code of the SI unit, and of the unit people read it in. */
  unit: string
  viewUnit: string
  /** For people. */
  formula: string
  counters: readonly string[]
  /** Constants of the plant file. */
  constants?: readonly string[]
  /** What a plant needs that lacks one of them. */
  needs: string
  /**
   * @param sums What the counters gave in the period, in the order of `counters` [SI].
   * @param constants In their order [SI].
   * @returns The value in SI, or why there is none.
   */
  value(sums: readonly number[], time: IndexTime, constants: readonly number[]): number | string
  /** A ratio of what counters gave: over the time in which all of them are known. */
  isRatio?: true
  /** What it is where the unknown time was as good as it can be, while `value` takes it for as bad. Absent: time is no part of it. */
  most?(sums: readonly number[], time: IndexTime, constants: readonly number[]): number
}

/** A period [s], and the part of it of which nothing is known. */
export interface IndexTime {
  elapsed: number
  unknown: number
}

export const NOTHING_KNOWN = 'nothing is known of this time'

/** A ratio, or why there is none. */
const ratio = (above: number, below: number, otherwise: string) => (below > 0 ? above / below : otherwise)

/**
 * Source: IEC and trade definitions as commonly used (capacity factor, availability, mean time between failures). They know
 * no time of which nothing is known. What is lost together with the plant would hide an outage, so that time counts as an
 * outage, and as standing still, and beside it stands what it may have been at most (common practice, no source).
 */
export const indexKinds: readonly IndexKind[] = [
  {
    id: 'capacityFactor',
    name: 'Capacity factor',
    unit: '1',
    viewUnit: '%',
    formula:
      'energy generated ÷ (rated power × time); time of which nothing is known counts as standing still',
    counters: ['energyGenerated'],
    constants: ['generator.ratedPower'],
    needs: 'needs active power or an energy meter, and generator.ratedPower in the plant file',
    value: ([energy], { elapsed, unknown }, [rated]) =>
      unknown < elapsed ? ratio(energy!, rated! * elapsed, NOTHING_KNOWN) : NOTHING_KNOWN,
    most: ([energy], { elapsed, unknown }, [rated]) => (energy! + rated! * unknown) / (rated! * elapsed),
  },
  {
    id: 'flowLimitedCapacityFactor',
    name: 'Capacity factor of what the river allowed',
    unit: '1',
    viewUnit: '%',
    formula:
      'energy generated ÷ energy that the river allowed, the latter in proportion to the flow above the hands-off flow; both while both are known',
    counters: ['energyGenerated', 'energyPossible'],
    needs:
      'needs discharge and residual flow, and licence.handsOffFlow, turbine.ratedDischarge and generator.ratedPower in the plant file',
    isRatio: true,
    value: ([energy, possible]) => ratio(energy!, possible!, 'the river allowed nothing'),
  },
  {
    id: 'availability',
    name: 'Availability',
    unit: '1',
    viewUnit: '%',
    formula:
      '(time − time tripped − time of which nothing is known) ÷ time; planned stops are not told apart',
    counters: ['outageSeconds'],
    needs: 'needs an instrument with role tripped.1',
    value: ([outage], { elapsed, unknown }) =>
      unknown < elapsed ? ratio(elapsed - unknown - outage!, elapsed, NOTHING_KNOWN) : NOTHING_KNOWN,
    most: ([outage], { elapsed }) => (elapsed - outage!) / elapsed,
  },
  {
    id: 'timeBetweenForcedStops',
    name: 'Mean run time between forced stops',
    unit: 's',
    viewUnit: 'h',
    formula: 'run time ÷ number of forced stops',
    counters: ['runSeconds', 'forcedStops'],
    needs: 'needs active power and an instrument with role tripped.1',
    value: ([run, stops]) => ratio(run!, stops!, 'no forced stop yet'),
  },
  {
    id: 'specificEnergy',
    name: 'Energy per volume of water',
    unit: 'J/m3',
    viewUnit: 'kW.h/m3',
    formula: 'energy generated ÷ water through the turbine, both while both are known',
    counters: ['energyGenerated', 'waterVolume'],
    needs: 'needs active power and discharge, or meters of both',
    isRatio: true,
    value: ([energy, volume]) => ratio(energy!, volume!, 'no water went through the turbine'),
  },
  {
    id: 'dumpedShare',
    name: 'Share of the energy burnt in the dump load',
    unit: '1',
    viewUnit: '%',
    formula: 'energy burnt in the dump load ÷ energy generated, both while both are known',
    counters: ['energyDumped', 'energyGenerated'],
    needs: 'needs dump load power and active power',
    isRatio: true,
    value: ([dumped, energy]) => ratio(dumped!, energy!, 'nothing was generated'),
  },
]
