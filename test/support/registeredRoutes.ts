import type { Express } from 'express'

/** The parts of Express 5's router that this reads; they are not part of its documented interface. */
interface Layer {
  route?: { path: string; methods: Record<string, boolean> }
  handle: { stack?: Layer[] }
  match(path: string): boolean
}

/** "GET /api/plants/:plant/live" for every route that the application answers, by whichever router. */
export function registeredRoutes(app: Express): string[] {
  return routesOf((app as unknown as { router: { stack: Layer[] } }).router.stack)
}

function routesOf(layers: readonly Layer[]): string[] {
  return layers.flatMap((layer) => {
    const { route, handle } = layer
    if (route) return Object.keys(route.methods).map((method) => `${method.toUpperCase()} ${route.path}`)
    if (!handle.stack) return []
    if (!layer.match('/anything')) throw new Error('a router is mounted elsewhere than at /')
    return routesOf(handle.stack)
  })
}
