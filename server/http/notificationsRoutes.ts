import { z } from 'zod'
import { mayBePublic } from '../hosts.ts'
import { notificationsReply } from '../wire/notifications.ts'
import { number } from '../wire/shape.ts'
import { knowsPeople, withoutFaults, withoutPeople } from './discretion.ts'
import { given } from './errors.ts'
import { done, get, OK, post } from './route.ts'

const recipient = z.string().max(64)
const subscription = z.object({
  endpoint: z
    .string()
    .max(1000)
    .refine(isPushAddress, { error: 'expected an https address of the internet, as browsers give it' }),
  keys: z.object({
    p256dh: z.string().regex(/^[\w-]{80,100}=*$/, { error: 'expected a key of 65 bytes' }),
    auth: z.string().regex(/^[\w-]{20,30}=*$/, { error: 'expected a key of 16 bytes' }),
  }),
})
function isPushAddress(text: string): boolean {
  if (!URL.canParse(text)) return false
  const { protocol, hostname, username } = new URL(text)
  return protocol === 'https:' && username === '' && mayBePublic(hostname)
}

/** Whether alarm messages get through, and what is on its way. */
export const notificationsRoutes = [
  get('read', '/api/notifications', {
    summary: 'Alarm messages: channels, ways and when each was last proven, newest deliveries',
    reply: notificationsReply,
    async handle({ ask, access }, { request }) {
      const reply = given(await ask('notifications', null))
      const discreet = knowsPeople(access, request) ? reply : withoutPeople(reply)
      return access.may(request, 'settings') ? discreet : withoutFaults(discreet)
    },
  }),
  post('settings', '/api/notifications/test', {
    summary: 'Send a test message that is to be confirmed',
    action: 'send a test message',
    body: z.strictObject({ recipient: recipient.exactOptional().describe('Left out: everybody') }),
    reply: z.object({ planned: number }),
    handle: async ({ ask }, { body: { recipient = null } }) => given(await ask('testMessage', { recipient })),
  }),
  post('settings', '/api/notifications/channels/:channel/enable', {
    summary: 'Send over a channel again whose other end had said that it wants no more',
    action: 'switch a channel on',
    reply: OK,
    handle: async ({ ask }, { params: { channel } }) => done(await ask('enableChannel', { channel })),
  }),
  post('settings', '/api/notifications/browsers', {
    summary: 'Show messages for a recipient in this browser',
    action: 'add a browser',
    body: z.strictObject({
      recipient,
      subscription: subscription.describe('As the browser’s PushManager gives it'),
    }),
    reply: OK,
    handle: async ({ ask }, { body }) => done(await ask('addBrowser', body)),
  }),
]
