import { expect } from 'vitest'
import { z } from 'zod'
import type { Route } from '../../server/http/route.ts'
import { ROUTES } from '../../server/http/routes.ts'

/** The row that answers a request; undefined where there is none. */
export function routeOf(method: string, path: string): Route | undefined {
  const asked = path.replace(/[?#].*$/, '')
  return ROUTES.find(
    (route) =>
      route.method === method.toLowerCase() &&
      new RegExp(`^${route.path.replaceAll('.', '\\.').replace(/:\w+/g, '[^/]+')}$`).test(asked),
  )
}

/** Fails where a JSON reply has a field that its row does not describe, or lacks one, or has another kind of value. */
export function expectDescribed(method: string, path: string, reply: unknown): void {
  const schema = routeOf(method, path)?.reply
  if (!(schema instanceof z.ZodType)) throw new Error(`${method} ${path} is no route with a JSON reply`)
  const parsed = schema.safeParse(reply)
  expect(parsed.error?.issues ?? [], `${method} ${path}`).toEqual([])
  // The schemas drop what they do not know of, so that anything left out of them shows here.
  expect(parsed.data, `${method} ${path}`).toEqual(reply)
}
