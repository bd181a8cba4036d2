import { createRequire } from 'node:module'
import { pathToFileURL } from 'node:url'

/**
 * Finds a worker file beside the file that starts it, in dist/ (compiled, .js) as well as in the source tree. From
 * the source tree the worker first gets the loader for TypeScript, which its starter may or may not have.
 *
 * @param starter `import.meta.url` of the file that starts the worker.
 * @param name Name of the worker file without ending, relative to the starter: './worker'.
 */
export function workerUrl(starter: string, name: string): URL {
  if (!starter.endsWith('.ts')) return new URL(`${name}.js`, starter)
  const loader = new URL(
    'dist/esm/api/index.mjs',
    pathToFileURL(createRequire(starter).resolve('tsx/package.json')),
  ).href
  const file = new URL(`${name}.ts`, starter).href
  const code = `import { register } from ${JSON.stringify(loader)}; register(); await import(${JSON.stringify(file)})`
  return new URL(`data:text/javascript,${encodeURIComponent(code)}`)
}
