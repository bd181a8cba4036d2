import { subscribe, unsubscribe } from 'node:diagnostics_channel'
import type { Express, Request } from 'express'

/** The parts of Express 5's router that this reads; they are not part of its documented interface. */
interface Layer {
  route?: { path: string; methods: Record<string, boolean> }
  handle: { stack?: Layer[] }
  match(path: string): boolean
}

/** "GET /api/plants/:plant/live" for every route that the server of this process at `url` answers, by whichever router. */
export async function registeredRoutes(url: string): Promise<string[]> {
  const app = await answering(url)
  return routesOf((app as unknown as { router: { stack: Layer[] } }).router.stack)
}

/** The application that answers a request: Express notes it in the request, Node.js tells of the answer. */
async function answering(url: string): Promise<Express> {
  const channel = 'http.server.response.finish'
  let onFinish = (_message: unknown) => {}
  const answered = new Promise<Express>((resolve) => {
    onFinish = (message) => resolve((message as { request: Request }).request.app as Express)
  })
  subscribe(channel, onFinish)
  await (await fetch(url)).text()
  const app = await answered
  unsubscribe(channel, onFinish)
  return app
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
