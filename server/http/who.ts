import type { Request } from 'express'
import type { Who } from '../alarms/alarm.ts'

/** Who acts and from where. Until there are users, a name is what the person gives, or the machine. */
export function whoOf(
  request: Request,
  { now, name, note }: { now: number; name?: string; note?: string },
): Who {
  const address = (request.socket.remoteAddress ?? '').replace(/^::ffff:/, '')
  const isPage = request.headers.origin !== undefined || request.headers['sec-fetch-site'] !== undefined
  return {
    by: name ?? 'this machine',
    at: now,
    via: `${isPage ? 'page' : 'program'} at ${address}`,
    ...(note === undefined ? {} : { note }),
  }
}
