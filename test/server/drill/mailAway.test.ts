import { expect, it } from 'vitest'
import { drill } from '../../support/drill.ts'
import { startMailServer } from '../../support/mailServer.ts'

/** The grid is lost 5 s after the start; the mail server is away from then on for two minutes. */
const AWAY_UNTIL_S = 125

it('a grid loss while the mail server is away for two minutes is told afterwards, in order and with times that stay true', {
  timeout: 300_000,
}, async () => {
  const mail = await startMailServer('away')
  const { deliveries } = await drill('skelderwath', 'loadRejection', {
    channel: `{ id: way, kind: email, host: 127.0.0.1, port: ${mail.port}, from: headrace@plant.example, security: none }`,
    pauseMs: 3,
    onSecond(second) {
      if (second === AWAY_UNTIL_S) mail.behave('accept')
    },
  })
  const made = [...deliveries].reverse().filter((one) => one.recipient === 'anna')
  for (const { kind, createdAt, finishedAt, short } of made)
    console.log(`${kind} after ${(finishedAt! - createdAt) / 1000} s: ${short}`)
  const kinds = made.map((one) => `${one.kind} ${one.status}`)
  expect(kinds).toEqual(['raised sent', 'raised sent', 'followed sent'])
  const arrived = mail.mails
    .filter((one) => /^To: anna@/m.test(one))
    .map((one) => /^Message-ID: <(.*)@/m.exec(one)![1])
  expect(arrived).toEqual(made.map((one) => one.id))
  // Its fifth attempt is at most 2.4 min after its fourth.
  for (const { finishedAt } of made) expect(finishedAt! - made[0]!.createdAt).toBeLessThan(270_000)
  expect(made.map((one) => one.short).join()).not.toMatch(/\bNow\b/)
  await mail.close()
})
