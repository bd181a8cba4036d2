import type { Plant } from '../../server/plant/plant.ts'
import type { PlantModel, Setting } from '../plants/model.ts'
import { scenarioOf } from '../scenarios/index.ts'
import { createScenarioPlayer } from '../scenarios/scenario.ts'
import { sensorFaults } from '../sensors/faults.ts'
import type { Sensor } from '../sensors/sensor.ts'
import { type Control, readCommand, settingFromSi, settingToSi, stateMessage } from './controls.ts'
import type { OutMessage } from './encode.ts'

/**
 * Everything that can be changed at one plant: its settings, instrument faults and scenarios. Controls begin as the
 * plant file says.
 */
export function createControlDesk(plant: Plant, model: PlantModel, sensors: readonly Sensor[]) {
  const controls = plant.simulation?.controls ?? []
  const player = createScenarioPlayer(plant.id, ({ control, value }) => command(control, value))
  const sent = new Map<string, string>()
  let fault = 'none'

  for (const control of controls) {
    if (Object.hasOwn(model.settings, control.id))
      model.command(control.id, settingToSi(control, control.initial))
  }

  /** @returns The sentence that says why nothing was changed, or undefined. */
  function command(id: string, value: Setting): string | undefined {
    if (id === 'fault') return setFault(String(value))
    if (id === 'scenario') return startScenario(String(value))
    const control = controls.find((one) => one.id === id)
    const isDone = model.command(id, control ? settingToSi(control, value) : value)
    return isDone ? undefined : `command "${id}": ${plant.id} has no such setting, or not of this kind.`
  }

  function setFault(wanted: string): string | undefined {
    const [instrument, kind] = wanted.split(':')
    const sensor = sensors.find((one) => one.instrument.id === instrument)
    const isKnown = sensor && kind !== undefined && Object.hasOwn(sensorFaults, kind)
    if (wanted !== 'none' && !isKnown) return faultExpected(wanted)
    for (const one of sensors) one.setFault(undefined)
    sensor?.setFault(kind)
    fault = wanted
    return undefined
  }

  function startScenario(wanted: string): string | undefined {
    const scenario = scenarioOf(wanted)
    if (!scenario && wanted !== 'none')
      return `command "scenario": there is no scenario "${wanted.slice(0, 64)}".`
    if (scenario && !Object.hasOwn(scenario.steps, plant.id))
      return `command "scenario": "${scenario.id}" has no steps for ${plant.id}.`
    player.start(scenario)
    return undefined
  }

  function stateOf(control: Control): Setting {
    if (control.id === 'fault') return fault
    if (control.id === 'scenario') return player.running()
    return settingFromSi(control, model.settings[control.id] ?? control.initial)
  }

  return {
    command,
    receive(topic: string, payload: string): string | undefined {
      const control = controls.find((one) => one.topic === topic)
      if (!control) return `topic "${topic}" belongs to no control of ${plant.id}.`
      const read = readCommand(control, payload)
      // Answered also where nothing changed, so that the sender learns what holds.
      sent.delete(control.id)
      return 'fault' in read ? read.fault : command(control.id, read.value)
    },
    /** The settings that changed since the last call. */
    changedStates: (): OutMessage[] =>
      controls.flatMap((control) => {
        const message = stateMessage(control, stateOf(control))
        if (sent.get(control.id) === message.payload) return []
        sent.set(control.id, message.payload)
        return [message]
      }),
    forgetStates: () => sent.clear(),
    /** Scenarios go on. */
    step: (dt: number) => player.step(dt),
  }
}

function faultExpected(wanted: string): string {
  const kinds = Object.keys(sensorFaults).join(', ')
  return (
    `command "fault": found "${wanted.slice(0, 64)}", expected "none" or an instrument and one of ${kinds}, ` +
    'such as "speed:lost".'
  )
}
