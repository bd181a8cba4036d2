import { join } from 'node:path'
import express, { type Express } from 'express'
import helmet from 'helmet'
import { ackRouter } from './ackRouter.ts'
import type { HttpContext } from './context.ts'
import { enterRouter } from './enterRouter.ts'
import { answerFault, answerMissing } from './errors.ts'
import { requireKnownHost } from './guards.ts'
import { ROUTES } from './routes.ts'
import { serveRoutes } from './serve.ts'

/** The HTTP side: the rows of the interface, then the page. */
export function createApp(
  context: HttpContext,
  { webFolder, host, pageName = null }: { webFolder: string; host: string; pageName?: string | null },
): Express {
  const app = express()
  app.disable('x-powered-by')
  // Before everything else: a link in a message carries its own right, and comes in under the public name.
  app.use(ackRouter(context.ask, context.access.audit))
  app.use(requireKnownHost({ host, pageName }))
  app.use(
    helmet({
      contentSecurityPolicy: { useDefaults: false, directives: POLICY },
      strictTransportSecurity: false,
    }),
  )
  app.use(enterRouter(context.access))
  app.use('/api', (_request, response, next) => {
    response.set('Cache-Control', 'no-store')
    next()
  })
  app.use(serveRoutes(ROUTES, { ...context, host }))
  app.use(
    '/assets',
    express.static(join(webFolder, 'assets'), { immutable: true, maxAge: '1y', dotfiles: 'deny' }),
  )
  app.use(express.static(webFolder, { dotfiles: 'deny', cacheControl: false }))
  app.get('/', (_request, response) => {
    response.status(503).type('text/plain').send('The page is not built. Run "npm run build", then reload.')
  })
  app.use(answerMissing)
  app.use(answerFault)
  return app
}

/** Nothing inline, nothing from elsewhere. */
const POLICY = {
  'default-src': ["'self'"],
  'connect-src': ["'self'", 'ws:', 'wss:'],
  'img-src': ["'self'", 'data:'],
  'object-src': ["'none'"],
  'base-uri': ["'none'"],
  'form-action': ["'none'"],
  'frame-ancestors': ["'none'"],
}
