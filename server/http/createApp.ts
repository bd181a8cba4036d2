import { existsSync } from 'node:fs'
import { join } from 'node:path'
import express, { type Express } from 'express'
import helmet from 'helmet'
import { accessRouter } from './accessRouter.ts'
import { ackRouter } from './ackRouter.ts'
import { alarmsRouter } from './alarmsRouter.ts'
import { classRouter } from './classRouter.ts'
import type { HttpContext } from './context.ts'
import { answerFault, answerMissing } from './errors.ts'
import { eventsRouter } from './eventsRouter.ts'
import { createGate } from './gate.ts'
import { requireKnownHost } from './guards.ts'
import { healthRouter } from './healthRouter.ts'
import { historyRouter } from './historyRouter.ts'
import { lessonsRouter } from './lessonsRouter.ts'
import { notificationsRouter } from './notificationsRouter.ts'
import { plantsRouter } from './plantsRouter.ts'
import { replaysRouter } from './replaysRouter.ts'
import { simulatorRouter } from './simulatorRouter.ts'
import { trialsRouter } from './trialsRouter.ts'
import { usersRouter } from './usersRouter.ts'

const LARGEST_BODY = '16kb'

/** The HTTP side: one router per resource, then the page. */
export function createApp(
  context: HttpContext,
  { webFolder, host, pageName = null }: { webFolder: string; host: string; pageName?: string | null },
): Express {
  const app = express()
  app.disable('x-powered-by')
  // Before everything else: a link in a message carries its own right, and comes in under the public name.
  app.use(ackRouter(context.notify.desk, context.access.audit))
  app.use(requireKnownHost({ host, pageName }))
  app.use(
    helmet({
      contentSecurityPolicy: { useDefaults: false, directives: POLICY },
      strictTransportSecurity: false,
    }),
  )
  app.use('/api', (_request, response, next) => {
    response.set('Cache-Control', 'no-store')
    next()
  })
  app.use(createGate(context.access))
  app.use(express.json({ limit: LARGEST_BODY, strict: true }))
  app.use(healthRouter(context))
  app.use(
    '/api',
    plantsRouter(context),
    historyRouter(context),
    alarmsRouter(context),
    eventsRouter(context),
    simulatorRouter(context),
    accessRouter(context),
    usersRouter(context),
    notificationsRouter(context),
    trialsRouter(context),
    replaysRouter(context),
    lessonsRouter(context, host),
    classRouter(context),
  )
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

export function isPageBuilt(webFolder: string): boolean {
  return existsSync(join(webFolder, 'index.html'))
}
