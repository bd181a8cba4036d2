import { Agent, type IncomingMessage, request } from 'node:http'
import { connect } from 'node:net'
import { brotliDecompressSync, unzipSync } from 'node:zlib'
import fc from 'fast-check'
import { z } from 'zod'
import { paramNames } from '../../../server/http/params.ts'
import type { Route } from '../../../server/http/route.ts'
import { ROUTES } from '../../../server/http/routes.ts'
import { errorReply } from '../../../server/wire/replies.ts'
import { routeOf } from '../../support/describedReplies.ts'
import { fitting } from '../fitting.ts'
import { damaged, damagedBytes, jsonRubbish, rubbish, word } from '../rubbish.ts'
import { demand, opened, type Target } from '../target.ts'
import { openWorld, WHO, type Who, WORDS, type World } from '../world.ts'

interface Asked {
  method: string
  path: string
  headers: Record<string, string>
  body: string | undefined
  who: Who
}

type Case = Asked | { raw: Buffer }

/** Answers that say "not now" with full intent, and what they are for. */
const MAY_BE_503 = ['/api/health/probe']

const segment = fc.oneof(
  { weight: 3, arbitrary: fc.constantFrom(...WORDS) },
  { weight: 3, arbitrary: fc.integer({ min: -1, max: 5 }).map(String) },
  { weight: 1, arbitrary: rubbish },
)
const encoded = segment.map(safe)

const NAMES = [
  'accept',
  'accept-encoding',
  'range',
  'if-none-match',
  'if-modified-since',
  'origin',
  'sec-fetch-site',
  'x-forwarded-for',
  'x-forwarded-proto',
  'forwarded',
  'cookie',
  'authorization',
  'content-encoding',
  'expect',
  'upgrade',
  'x-http-method-override',
  'content-type',
]
/** Letters that may stand in a header; others are for the raw requests. */
const headerText = fc
  .oneof(
    word,
    rubbish,
    fc.constantFrom(
      'gzip',
      'application/json; charset=utf-16',
      'text/plain',
      'null',
      '127.0.0.1',
      'https',
      '100-continue',
      'websocket',
      'bytes=0-',
    ),
  )
  .map((text) => text.replace(/[^\x20-\x7e]/g, '').slice(0, 300))

const bodyOf = ({ body }: Route): fc.Arbitrary<string | undefined> => {
  const any = fc.oneof(
    jsonRubbish.map((value) => JSON.stringify(value)),
    rubbish,
    fc.nat(20_000).map((depth) => '['.repeat(depth)),
  )
  if (!body)
    return fc.oneof({ weight: 4, arbitrary: fc.constantFrom(undefined, '{}') }, { weight: 1, arbitrary: any })
  const fits = fitting(body, WORDS).map((value) => JSON.stringify(value))
  return fc.oneof(
    { weight: 6, arbitrary: fits },
    { weight: 2, arbitrary: damaged(fits) },
    { weight: 1, arbitrary: any },
  )
}

const queryOf = ({ query }: Route): fc.Arbitrary<string> => {
  const pair = fc.tuple(
    fc.oneof(fc.constantFrom('figures', 'from', 'to', 'points', 'limit', 'before'), rubbish),
    segment,
  )
  const any = fc
    .array(pair, { maxLength: 3 })
    .map((pairs) => pairs.map((one) => one.map(safe).join('=')).join('&'))
  if (!query) return fc.oneof({ weight: 4, arbitrary: fc.constant('') }, { weight: 1, arbitrary: any })
  const fits = fitting(query, WORDS).map((value) =>
    Object.entries(value as object)
      .map((pair) => pair.map((one) => safe(String(one))).join('='))
      .join('&'),
  )
  return fc.oneof({ weight: 5, arbitrary: fits }, { weight: 1, arbitrary: any })
}

/** Half of a pair of surrogates cannot be written in an address; its bytes can. */
function safe(text: string): string {
  try {
    return encodeURIComponent(text)
  } catch {
    return '%ED%A0%80'
  }
}

function requestTo(route: Route): fc.Arbitrary<Asked> {
  const names = paramNames(route.path)
  return fc.record({
    method: fc.oneof(
      { weight: 20, arbitrary: fc.constant(route.method.toUpperCase()) },
      { weight: 1, arbitrary: fc.constantFrom('PUT', 'OPTIONS', 'HEAD', 'TRACE', 'PATCH') },
    ),
    path: fc
      .tuple(
        fc.array(
          fc.oneof(
            { weight: 4, arbitrary: fc.constantFrom('quennerby', '1', '2') },
            { weight: 3, arbitrary: encoded },
          ),
          { minLength: names.length, maxLength: names.length },
        ),
        queryOf(route),
      )
      .map(([values, query]) => {
        const path = names.reduce(
          (text, name, i) =>
            text.replace(`:${name}`, () =>
              name === 'plant' && values[i]!.length < 3 ? 'quennerby' : values[i]!,
            ),
          route.path,
        )
        return query === '' ? path : `${path}?${query}`
      }),
    headers: fc
      .dictionary(fc.constantFrom(...NAMES), headerText, { maxKeys: 2, noNullPrototype: true })
      .map((all) => (Object.keys(all).length > 1 ? all : {})),
    body: route.method === 'get' ? fc.constant(undefined) : bodyOf(route),
    who: fc.oneof(
      { weight: 6, arbitrary: fc.constant<Who>(route.right === 'attend' ? 'phone' : 'administrator') },
      { weight: 2, arbitrary: fc.constantFrom(...WHO) },
    ),
  })
}

const raw = damagedBytes(
  fc
    .constantFrom(
      'GET /api/plants HTTP/1.1\r\nHost: 127.0.0.1\r\n\r\n',
      'POST /api/session HTTP/1.1\r\nHost: localhost\r\nContent-Type: application/json\r\nContent-Length: 30\r\n\r\n{"name":"a","password":"abcd"}',
      'POST /api/session HTTP/1.1\r\nHost: localhost\r\nTransfer-Encoding: chunked\r\nContent-Type: application/json\r\n\r\n2\r\n{}\r\n0\r\n\r\n',
      'GET /socket.io/?EIO=4&transport=websocket HTTP/1.1\r\nHost: localhost\r\nUpgrade: websocket\r\nConnection: Upgrade\r\nSec-WebSocket-Key: AAAAAAAAAAAAAAAAAAAAAA==\r\nSec-WebSocket-Version: 13\r\n\r\n',
      'GET /socket.io/?EIO=4&transport=polling HTTP/1.1\r\nHost: localhost\r\n\r\n',
    )
    .map((text) => Buffer.from(text)),
)

/** A case is a request: to every route of the table, and as bytes to the port. */
export const httpTarget: Target = {
  name: 'http',
  share: 0.04,
  async open() {
    const world = await openWorld()
    const agent = new Agent({ keepAlive: true, maxSockets: 1 })
    const known = fc.oneof(...ROUTES.map(requestTo))
    return opened<Case>({
      cases: fc.oneof(
        { weight: 9, arbitrary: known },
        { weight: 1, arbitrary: raw.map((bytes) => ({ raw: bytes })) },
      ),
      run: (one) => ('raw' in one ? sendRaw(world, one.raw) : ask(world, agent, one)),
      before: world.before,
      async close() {
        agent.destroy()
        await world.close()
      },
    })
  },
}

async function ask(world: World, agent: Agent, asked: Asked): Promise<void> {
  const { method, path, who, body } = asked
  const { status, text, type } = await answerTo(world, agent, asked)
  if (status === 401 || status === 403) world.lost(who)
  const isMeant = status === 503 && MAY_BE_503.includes(path.split('?')[0]!)
  demand(status < 500 || isMeant, () => `${method} ${path} ${body}: ${status} ${text.slice(0, 300)}`)
  if (!type.startsWith('application/json') || method === 'HEAD') return
  const reply: unknown = JSON.parse(text)
  const schema = status === 200 ? routeOf(method, path)?.reply : errorReply
  if (!(schema instanceof z.ZodType)) return
  const parsed = schema.safeParse(reply)
  demand(
    parsed.success || isMeant,
    () => `${method} ${path} ${body}: ${status} ${text.slice(0, 300)} does not fit: ${parsed.error}`,
  )
}

interface Answer {
  status: number
  type: string
  text: string
}

function answerTo(
  { url, cookie }: World,
  agent: Agent,
  { method, path, headers, body, who }: Asked,
): Promise<Answer> {
  return new Promise((resolve, reject) => {
    const sent = {
      ...(body === undefined ? {} : { 'content-type': 'application/json' }),
      cookie: cookie(who),
      ...headers,
    }
    const { upgrade: _, ...plain } = sent as Record<string, string>
    const length = body === undefined ? {} : { 'content-length': String(Buffer.byteLength(body)) }
    const one = request({ ...addressOf(url), path, method, headers: { ...plain, ...length }, agent })
    one.on('error', reject)
    one.on('response', (response: IncomingMessage) => {
      const chunks: Buffer[] = []
      response.on('data', (chunk: Buffer) => chunks.push(chunk))
      response.on('error', reject)
      response.on('end', () => {
        const text = unpacked(Buffer.concat(chunks), response.headers['content-encoding']).toString()
        resolve({ status: response.statusCode!, type: response.headers['content-type'] ?? '', text })
      })
    })
    one.end(body)
  })
}

/** As whoever asked for it packed would take it. */
function unpacked(bytes: Buffer, encoding: string | undefined): Buffer {
  if (bytes.length === 0) return bytes
  if (encoding === 'br') return brotliDecompressSync(bytes)
  return encoding === 'gzip' || encoding === 'deflate' ? unzipSync(bytes) : bytes
}

function addressOf(url: string): { host: string; port: string } {
  const { hostname, port } = new URL(url)
  return { host: hostname, port }
}

/** The answer has to begin as one, and not with a fault of the server. */
function sendRaw({ url }: World, bytes: Buffer): Promise<void> {
  return new Promise((resolve, reject) => {
    const { host, port } = addressOf(url)
    const socket = connect({ host, port: Number(port) })
    let text = ''
    socket.setEncoding('latin1').on('data', (chunk: string) => (text += chunk))
    socket.on('error', () => {})
    socket.on('close', () => {
      const status = Number(/^HTTP\/1\.1 (\d{3}) /.exec(text)?.[1])
      if (text === '' || (status > 0 && status < 500)) resolve()
      else reject(new Error(`${JSON.stringify(bytes.toString('latin1'))}: ${text.slice(0, 200)}`))
    })
    socket.end(bytes)
  })
}
