import { z } from 'zod'
import { HttpFault } from './errors.ts'
import { plantOf } from './plantsRoutes.ts'
import { done, OK, post } from './route.ts'

const body = z.strictObject({
  value: z
    .union([z.number(), z.boolean(), z.string().max(64)])
    .describe('true or false for a switch, a number for a slider, an id for a choice'),
})

/** Commands to the bundled simulator. Plants that are not simulated have none: a real plant is never commanded. */
export const simulatorRoutes = [
  post('simulate', '/api/plants/:plant/simulator/:control', {
    summary: 'Command to the simulator of a simulated plant',
    body,
    reply: OK,
    async handle(context, { params, body: { value }, note }) {
      const { plant } = plantOf(context, params.plant)
      if (!plant.simulated)
        throw new HttpFault(403, { error: 'This plant is not simulated; a real plant is never commanded.' })
      const id = params.control
      const control = plant.simulation?.controls.find((one) => one.id === id)
      if (!control) throw new HttpFault(404, { error: `The simulator has no control "${id.slice(0, 64)}".` })
      note({ detail: `to ${value}` })
      const expected = expectedBy(control, value)
      if (expected !== undefined)
        throw new HttpFault(400, {
          error: `The value for "${control.name}" cannot be used.`,
          faults: [{ path: 'value', received: JSON.stringify(value), expected }],
        })
      const payload = String(typeof value === 'boolean' ? Number(value) : value)
      return done(await context.ask('command', { plant: plant.id, control: id, payload }))
    },
  }),
]

interface Control {
  kind: 'switch' | 'slider' | 'choice'
  min?: number | undefined
  max?: number | undefined
  choices?: { id: string }[] | undefined
}

/** What was expected, or undefined when the value fits. */
function expectedBy(control: Control, value: number | boolean | string): string | undefined {
  if (control.kind === 'switch') return typeof value === 'boolean' ? undefined : 'true or false'
  if (control.kind === 'choice') {
    const ids = (control.choices ?? []).map((choice) => choice.id)
    return ids.includes(String(value)) ? undefined : `one of ${ids.join(', ')}`
  }
  const { min = Number.NEGATIVE_INFINITY, max = Number.POSITIVE_INFINITY } = control
  return typeof value === 'number' && value >= min && value <= max
    ? undefined
    : `a number from ${min} to ${max}`
}
