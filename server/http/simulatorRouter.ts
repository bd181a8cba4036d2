import { Router } from 'express'
import { z } from 'zod'
import { noteForAudit } from './auditTrail.ts'
import type { HttpContext } from './context.ts'
import { HttpFault, readInput } from './errors.ts'
import { plantOf } from './plantsRouter.ts'

const body = z.strictObject({ value: z.union([z.number(), z.boolean(), z.string().max(64)]) })

/** Commands to the bundled simulator. Plants that are not simulated have none: a real plant is never commanded. */
export function simulatorRouter(context: HttpContext): Router {
  const router = Router()
  router.post('/plants/:plant/simulator/:control', (request, response) => {
    const { plant } = plantOf(context, request)
    if (!plant.simulated)
      throw new HttpFault(403, { error: 'This plant is not simulated; a real plant is never commanded.' })
    const id = String(request.params['control'])
    const control = plant.simulation?.controls.find((one) => one.id === id)
    if (!control) throw new HttpFault(404, { error: `The simulator has no control "${id.slice(0, 64)}".` })
    const { value } = readInput(body, request.body, 'body')
    noteForAudit(response, { detail: `to ${value}` })
    const fault = faultOf(control, value)
    if (fault !== undefined)
      throw new HttpFault(400, {
        error: `The value for "${control.name}" cannot be used.`,
        faults: [{ path: 'value', received: JSON.stringify(value), expected: fault }],
      })
    context.broker.publish(control.topic, String(typeof value === 'boolean' ? Number(value) : value))
    response.json({ ok: true })
  })
  return router
}

interface Control {
  kind: 'switch' | 'slider' | 'choice'
  min?: number | undefined
  max?: number | undefined
  choices?: { id: string }[] | undefined
}

/** What was expected, or undefined when the value fits. */
function faultOf(control: Control, value: number | boolean | string): string | undefined {
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
