import type { Request } from 'express'
import type { Who } from '../alarms/alarm.ts'
import { actorOf, type HttpContext } from './context.ts'

/** Who acts and from where, for the journal. @throws {HttpFault} 401 */
export function whoOf(context: HttpContext, request: Request, note?: string): Who {
  const { name, address } = actorOf(context, request)
  const isPage = request.headers.origin !== undefined || request.headers['sec-fetch-site'] !== undefined
  return {
    by: name,
    at: context.now(),
    via: `${isPage ? 'page' : 'program'} at ${address}`,
    ...(note === undefined ? {} : { note }),
  }
}
