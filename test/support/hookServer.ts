import { createServer, type IncomingHttpHeaders } from 'node:http'
import type { AddressInfo } from 'node:net'

/** A status with headers, or no answer at all. */
export type HookAnswer = { status: number; headers?: Record<string, string> } | 'hang'

export interface HookServer {
  url: string
  requests: { headers: IncomingHttpHeaders; body: string }[]
  answerWith(next: HookAnswer): void
  close(): Promise<void>
}

/** A receiver of webhooks on a free port. */
export async function startHookServer(first: HookAnswer = { status: 204 }): Promise<HookServer> {
  let answer = first
  const requests: HookServer['requests'] = []
  const server = createServer((request, response) => {
    let body = ''
    request.setEncoding('utf8').on('data', (part) => {
      body += part
    })
    request.on('end', () => {
      requests.push({ headers: request.headers, body })
      if (answer !== 'hang') response.writeHead(answer.status, answer.headers).end()
    })
  })
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve))
  return {
    url: `http://127.0.0.1:${(server.address() as AddressInfo).port}/alarms`,
    requests,
    answerWith(next) {
      answer = next
    },
    close: () =>
      new Promise((resolve) => {
        server.closeAllConnections()
        server.close(() => resolve())
      }),
  }
}
