import type { FigureLookupById } from './lookup.ts'

/** A quantity that is summed up over time and kept across restarts. */
export interface CounterKind {
  id: string
  name: string
  /** SI unit of the sum. */
  unit: string
  /** The figure that is integrated. */
  figure: string
  /** SI rate at this moment; NaN when it cannot be given. */
  rate(figures: FigureLookupById): number
}

const integral = (id: string, name: string, figure: string): CounterKind => ({
  id,
  name,
  unit: 'J',
  figure,
  rate: (figures) => figures.value(figure),
})

/** Share of the rated speed and power from which a machine counts as running (trade practice, no source). */
export const RUNNING_SPEED = 0.2
export const RUNNING_POWER = 0.01

/** Every counter; a plant gets those whose figure it has. */
export const counterKinds: readonly CounterKind[] = [
  integral('energyGenerated', 'Energy generated', 'activePower'),
  integral('energyDumped', 'Energy burnt in the dump load', 'dumpPower'),
  integral('energyDelivered', 'Energy delivered to loads', 'loadPower'),
  integral('energyPumped', 'Energy used by the pump', 'pumpInputPower'),
  {
    id: 'waterVolume',
    name: 'Water through the turbine',
    unit: 'm3',
    figure: 'discharge',
    rate: (figures) => figures.value('discharge'),
  },
  {
    id: 'runSeconds',
    name: 'Run time',
    unit: 's',
    figure: 'activePower',
    rate: (figures) => runningRate(figures),
  },
]

/** 1 while running, 0 while not: its integral is the run time. */
function runningRate(figures: FigureLookupById): number {
  const power = figures.value('activePower')
  if (Number.isNaN(power)) return Number.NaN
  const speed = figures.share('speed')
  const isTurning = Number.isNaN(speed) || speed > RUNNING_SPEED
  const share = figures.share('activePower')
  return isTurning && (Number.isNaN(share) ? power > 0 : share > RUNNING_POWER) ? 1 : 0
}
