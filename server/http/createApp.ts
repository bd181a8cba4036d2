import { constants } from 'node:zlib'
import compression from 'compression'
import express, { type Express } from 'express'
import helmet from 'helmet'
import { isOverTls } from '../access/visitor.ts'
import { ackRouter } from './ackRouter.ts'
import type { HttpContext } from './context.ts'
import { enterRouter } from './enterRouter.ts'
import { answerFault, answerMissing } from './errors.ts'
import { type Home, requireKnownHost } from './guards.ts'
import { pageFiles } from './pageFiles.ts'
import { ROUTES } from './routes.ts'
import { serveRoutes } from './serve.ts'

/** The HTTP side: the rows of the interface, then the page. */
export function createApp(
  context: HttpContext,
  { webFolder, host, pageName, bindsSubdomains }: Home & { webFolder: string; bindsSubdomains: boolean },
): Express {
  const app = express()
  // RFC 6797, 6.1.1 and 6.1.2
  const binding = `max-age=${YEAR_S}${bindsSubdomains ? '; includeSubDomains' : ''}`
  app.disable('x-powered-by')
  // Before all guards: a link in a message carries its own right, and comes in under the public name.
  app.use((request, response, next) => {
    if (isOverTls(request)) response.set('Strict-Transport-Security', binding)
    next()
  })
  app.use(ackRouter(context.ask, context.access.audit))
  app.use(requireKnownHost({ host, pageName }))
  app.use(
    helmet({
      contentSecurityPolicy: { useDefaults: false, directives: POLICY },
      strictTransportSecurity: false,
    }),
  )
  app.use(enterRouter(context.access))
  app.use(['/api', '/metrics'], (_request, response, next) => {
    response.set('Cache-Control', 'no-store')
    next()
  })
  app.use(['/api', '/metrics'], compression(PACKING))
  app.use(serveRoutes(ROUTES, { ...context, host }))
  app.use(pageFiles(webFolder))
  app.get('/', (_request, response) => {
    response.status(503).type('text/plain').send('The page is not built. Run "npm run build", then reload.')
  })
  app.use(answerMissing)
  app.use(answerFault(context.tell))
  return app
}

const YEAR_S = 31_536_000
const { BROTLI_PARAM_QUALITY, BROTLI_PARAM_LGWIN } = constants
/** A reply that fits one packet goes as it is [bytes]; the rest takes 3 ms of CPU and 0.5 MB where 464 kB of numbers are packed. */
const PACKING = {
  threshold: 1400,
  brotli: { params: { [BROTLI_PARAM_QUALITY]: 1, [BROTLI_PARAM_LGWIN]: 16 } },
}

/** Nothing inline, nothing from elsewhere. */
const POLICY = {
  'default-src': ["'self'"],
  // Web sockets of the same host are "self" too (Content Security Policy Level 3, 6.7.2.8).
  'connect-src': ["'self'"],
  'img-src': ["'self'", 'data:'],
  'object-src': ["'none'"],
  'base-uri': ["'none'"],
  'form-action': ["'none'"],
  'frame-ancestors': ["'none'"],
}
