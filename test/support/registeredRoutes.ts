import type { Express } from 'express'
import { ROUTE_RIGHTS } from '../../server/http/routeRights.ts'

/** The parts of Express 5's router that this reads; they are not part of its documented interface. */
interface Layer {
  route?: { path: string; methods: Record<string, boolean> }
  handle: { stack?: Layer[] }
  match(path: string): boolean
}

/** Folders in which routers may be mounted; a router elsewhere is told of. */
const MOUNTS = ['/api']

/** "GET /api/plants/:plant/live" for every route of the application but those of the gate, which are its table. */
export function registeredRoutes(app: Express): string[] {
  const layers = (app as unknown as { router: { stack: Layer[] } }).router.stack
  const isGate = ({ handle }: Layer) => routesOf(handle.stack ?? [], '').join() === TABLE.join()
  if (layers.filter(isGate).length !== 1) throw new Error('expected one gate in the application')
  return routesOf(
    layers.filter((layer) => !isGate(layer)),
    '',
  )
}

export const TABLE = ROUTE_RIGHTS.map(({ method, path }) => `${method.toUpperCase()} ${path}`)

function routesOf(layers: readonly Layer[], mount: string): string[] {
  return layers.flatMap((layer) => {
    if (layer.route) {
      const { path, methods } = layer.route
      return Object.keys(methods).map((method) => `${method.toUpperCase()} ${mount}${path}`)
    }
    if (!layer.handle.stack) return []
    return routesOf(layer.handle.stack, mount + mountOf(layer))
  })
}

function mountOf(layer: Layer): string {
  if (layer.match('/anything')) return ''
  const found = MOUNTS.find((mount) => layer.match(`${mount}/anything`))
  if (found === undefined) throw new Error(`a router is mounted elsewhere than at / or ${MOUNTS.join()}`)
  return found
}
