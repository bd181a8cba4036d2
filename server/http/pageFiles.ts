import { join } from 'node:path'
import { Router } from 'express'
import staticCompressed from 'express-static-gzip'

const COMPRESSED = { enableBrotli: true, orderPreference: ['br', 'gzip'] }

/**
 * The files of the built page, each as the build compressed it where the browser takes that. The name of an asset changes
 * with its content, so browsers keep it; the rest is asked for anew.
 */
export function pageFiles(webFolder: string): Router {
  const router = Router()
  const assets = { immutable: true, maxAge: '1y', dotfiles: 'deny' }
  router.use('/assets', staticCompressed(join(webFolder, 'assets'), { ...COMPRESSED, serveStatic: assets }))
  const others = { dotfiles: 'deny', cacheControl: false }
  router.use(staticCompressed(webFolder, { ...COMPRESSED, serveStatic: others }))
  return router
}
