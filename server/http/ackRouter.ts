import { createHash } from 'node:crypto'
import express, { type Response, Router } from 'express'
import type { Audit } from '../access/audit.ts'
import { readVisitor } from '../access/visitor.ts'
import type { AckView } from '../alarms/notify/acknowledgements.ts'
import type { Ask } from '../channel/questions.ts'
import { given } from './errors.ts'

/**
 * /acknowledge/TOKEN: from a message to an acknowledged alarm in two taps. The token is the right to do so; there is
 * no session that a page from elsewhere could misuse. GET shows, only POST acknowledges: scanners of mail servers
 * follow every link.
 */
export function ackRouter(ask: Ask, audit: Pick<Audit, 'record'>): Router {
  const router = Router()
  router.get('/acknowledge/:token', async ({ params: { token } }, response) => {
    answer(response, given(await ask('ackView', { token })))
  })
  router.post(
    '/acknowledge/:token',
    express.urlencoded({ extended: false, limit: '1kb', inflate: false }),
    async (request, response) => {
      const token = String(request.params['token'])
      const raisedAt = Number((request.body as { raisedAt?: unknown } | undefined)?.raisedAt)
      const seen = given(await ask('ackView', { token }))
      // Whoever has no link of ours gets no further than looking.
      const view = seen.status === 'open' ? given(await ask('acknowledge', { token, raisedAt })) : seen
      if (view.did)
        audit.record({
          who: view.did.by,
          role: null,
          address: readVisitor(request).address,
          action: 'acknowledge',
          target: view.did.target,
          detail: 'by a link in a message',
          outcome: 'done',
        })
      answer(response, view)
    },
  )
  return router
}

function answer(response: Response, view: AckView): void {
  response
    .status(view.status === 'refused' ? 410 : 200)
    .set({
      'Content-Security-Policy': ACK_POLICY,
      'Cache-Control': 'no-store',
      'Referrer-Policy': 'no-referrer',
      'X-Content-Type-Options': 'nosniff',
    })
    .type('html')
    .send(renderAckPage(view))
}

const STYLE = `
:root { color-scheme: light dark; font: 1.05rem/1.45 system-ui, sans-serif }
body { margin: 0 auto; max-width: 34rem; padding: 1.2rem }
h1 { font-size: 1.3rem; line-height: 1.25 }
button { font: inherit; font-weight: 600; width: 100%; min-height: 3.5rem; border: 2px solid; border-radius: .5rem }
.done { border-inline-start: .3rem solid; padding-inline-start: .7rem; font-weight: 600 }
`

/** No script, nothing from elsewhere, and the one form goes to this server. */
const ACK_POLICY = [
  "default-src 'none'",
  `style-src 'sha256-${createHash('sha256').update(STYLE).digest('base64')}'`,
  "form-action 'self'",
  "base-uri 'none'",
  "frame-ancestors 'none'",
].join('; ')

/** A small page for a telephone: what it is about, and one button. The button alone acknowledges. */
function renderAckPage(view: AckView): string {
  const form =
    view.button === undefined
      ? ''
      : `<form method="post"><input type="hidden" name="raisedAt" value="${view.raisedAt}"><button>${escapeHtml(view.button)}</button></form>`
  const done =
    view.status === 'done' ? '<p class="done">Done: there is nothing more to acknowledge here.</p>' : ''
  const link =
    view.pageUrl === undefined ? '' : `<p><a href="${escapeHtml(view.pageUrl)}">To the page</a></p>`
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="robots" content="noindex">
<title>${escapeHtml(view.title)}</title>
<style>${STYLE}</style>
</head>
<body>
<main>
<h1>${escapeHtml(view.title)}</h1>
${done}${view.lines.map((line) => `<p>${escapeHtml(line)}</p>`).join('\n')}
${form}
${link}
</main>
</body>
</html>
`
}

function escapeHtml(text: string): string {
  return text.replaceAll(/[&<>"']/g, (letter) => `&#${letter.charCodeAt(0)};`)
}
