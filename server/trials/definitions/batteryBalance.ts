import { isBelow } from '../checks/traceChecks.ts'
import type { TraceTrial } from '../trial.ts'

/** What goes into a battery and what comes out of it, over a class hour. */
export const batteryBalance: TraceTrial = {
  id: 'batteryBalance',
  takes: 'traces',
  name: 'Battery: charge and discharge balance',
  aim: 'How much charge and energy go in and come out, and what the battery keeps for itself.',
  main: () => 'batteryVoltage',
  needs: () => ['batteryVoltage', 'batteryCurrent'],
  record: ['stateOfCharge', 'batteryTemperature'],
  begin: () => ({ kind: 'atOnce' }),
  words: { begins: 'it is armed', ends: 'you end it; after four hours it ends by itself' },
  secondsBefore: 2,
  longestSeconds: 4 * 3600,
  repeats: 1,
  afterRestart: 'goOn',
  reduction: 'batteryBalance',
  constants: ({ constants }) => ({
    capacity: constants.get('battery.ratedCharge'),
    chargeEfficiency: constants.get('battery.chargeEfficiency'),
  }),
  cautions: [
    {
      signal: 'DANGER',
      text: 'Short-circuit current of a battery is very high. Remove jewellery, use insulated tools.',
    },
    { signal: 'DANGER', text: 'Follow the limits of the cell maker for voltage, current and temperature.' },
  ],
  method: [
    'Note the state of charge. Discharge at a steady current for half of the time, then charge until the state of charge is back.',
    'Keep the current constant where you can, about a fifth of the capacity an hour.',
    'End the trace when the state of charge has returned; only then can efficiencies be told.',
  ],
  checks: [
    {
      id: 'energyBelowCharge',
      text: 'Efficiency in energy is below the one in charge: voltage is higher while charging.',
      rule: isBelow('energetic', 'coulombic'),
    },
    {
      id: 'shunt',
      text: 'The error of the current shunt does not average out: it is the same all the time.',
    },
    { id: 'flat', text: 'Voltage over state of charge is flat in the middle: it tells little there.' },
  ],
}
