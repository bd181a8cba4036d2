import { type Answer, http } from './http.ts'

/** Answer to "may this browser show alarm messages", as a sentence. */
export interface Registered {
  ok: boolean
  sentence: string
}

/** Why this browser cannot show messages at all; null when it can. Browsers offer it under https and on localhost. */
export function whyNoMessages(): string | null {
  if (!window.isSecureContext) return 'Browsers show messages only for pages under https.'
  if (!('serviceWorker' in navigator) || !('PushManager' in window) || !('Notification' in window))
    return 'This browser cannot show messages of a page.'
  return null
}

/**
 * Asks the person, registers this browser at its maker's push service, and tells the server.
 *
 * @param recipient Id of the person in the notification file.
 * @param pushKey The server's public key, base64url.
 */
export async function showMessagesHere(recipient: string, pushKey: string): Promise<Registered> {
  const reason = whyNoMessages()
  if (reason) return { ok: false, sentence: reason }
  try {
    if ((await Notification.requestPermission()) !== 'granted')
      return { ok: false, sentence: 'The browser was not allowed to show messages.' }
    const worker = await navigator.serviceWorker.register('/alarmMessages.js')
    await navigator.serviceWorker.ready
    const subscription = await worker.pushManager.subscribe({
      userVisibleOnly: true,
      applicationServerKey: bytesOf(pushKey),
    })
    return said(await http.subscribeBrowser(recipient, subscription.toJSON()))
  } catch (error) {
    return {
      ok: false,
      sentence: `The push service did not take this browser: ${error instanceof Error ? error.message : error}.`,
    }
  }
}

function said(answer: Answer<{ ok: true }>): Registered {
  return answer.ok
    ? { ok: true, sentence: 'This browser shows alarm messages. Send a test, and confirm it with its link.' }
    : { ok: false, sentence: answer.error }
}

function bytesOf(base64url: string): Uint8Array<ArrayBuffer> {
  const text = atob(base64url.replaceAll('-', '+').replaceAll('_', '/'))
  return Uint8Array.from(text, (letter) => letter.charCodeAt(0))
}
